package cli

import "cellar.local/glassrow/model"

// entryLifeJSON is what an entry about the life in the vessel, between batches and in
// bottles has besides.
type entryLifeJSON struct {
	From     uint64  `json:"from_batch,omitempty"` // pour, part
	To       uint64  `json:"to_batch,omitempty"`   // draw
	Other    string  `json:"other,omitempty"`      // what the other batch was called
	Why      string  `json:"why,omitempty"`        // draw
	Nitrogen *number `json:"nitrogen_mg_l,omitempty"`
	Place    string  `json:"place,omitempty"`
	Bottles  int     `json:"bottles,omitempty"` // taste: taken from the shelf
	Mark     *number `json:"mark,omitempty"`
	Words    string  `json:"words,omitempty"`

	DeviceFrom *stamp `json:"device_from,omitempty"` // distrust
	DeviceTo   *stamp `json:"device_to,omitempty"`
}

// life fills in what the kinds of that life say. A fining and a nutrient are named in
// with and mass_g, as an addition is.
func (e *entryJSON) life(body model.Body, at spot) {
	switch b := body.(type) {
	case model.Draw:
		e.Volume, e.To, e.Why = known(b.Volume), uint64(b.To), b.Why
	case model.Pour:
		e.From, e.Other, e.Tolerance = uint64(b.From), b.Name, known(b.Tolerance)
		if v, err := b.Liquid.Volume(); err == nil {
			e.Volume = known(v)
		}
	case model.Part:
		e.From, e.Other, e.Vessel, e.Volume = uint64(b.From), b.Name, at.label(b.Vessel), known(b.Volume)
	case model.Fine:
		e.With, e.Mass = b.Agent, known(b.Mass)
	case model.Feed:
		e.With, e.Mass, e.Nitrogen = b.What, known(b.Mass), known(b.Nitrogen)
	case model.Move:
		e.Place = b.Place
	case model.Distrust:
		from, to := stamp(b.From), stamp(b.To)
		e.DeviceFrom, e.DeviceTo, e.Reason = &from, &to, b.Reason
	case model.Tasted:
		e.Bottles, e.Words = b.Bottles, b.Words
		if b.Marked {
			e.Mark = figure(b.Mark)
		}
	}
}
