package cli

import (
	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
)

// weighedJSON is what a vessel on the scale comes to. Volumes need its tare, and the
// gravity by weight an earlier weighing at a known gravity; what is missing is null.
type weighedJSON struct {
	At           stamp   `json:"at"`
	Scale        number  `json:"scale_g"`
	Tare         *number `json:"tare_g"`
	Drink        *number `json:"drink_g"`
	Volume       *number `json:"volume_l"`
	PlusMinus    *number `json:"volume_plus_minus_l"`
	Reckoned     *number `json:"journal_volume_l"`
	Short        *number `json:"missing_l"` // null where the two agree; negative: more than written down
	Since        stamp   `json:"since"`
	Lost         *number `json:"lost_g"`
	SG           *number `json:"sg_by_weight"`
	SGPlusMinus  *number `json:"sg_by_weight_plus_minus"`
	ABV          *number `json:"abv_by_weight_pct"`
	ABVPlusMinus *number `json:"abv_by_weight_plus_minus_pct"`
	Unexplained  *number `json:"unexplained_g"` // lost, more than the sugar can give
	Current      bool    `json:"current"`       // nothing came or went since
}

func newWeighedJSON(k model.Weighing, tare calc.Gram) *weighedJSON {
	if k.Entry == 0 {
		return nil
	}
	by := k.With(tare)
	out := &weighedJSON{At: stamp(k.At), Scale: number(k.Scale), Tare: known(tare), Drink: known(by.Drink), Volume: known(by.Volume),
		PlusMinus: known(by.PlusMinus), Reckoned: known(by.Reckoned), Short: known(by.Short()), Since: stamp(by.Since),
		SG: known(by.SG), SGPlusMinus: known(by.SGPlusMinus), Unexplained: known(by.Unexplained), Current: k.Current}
	if !by.Since.IsZero() {
		out.Lost = figure(by.Lost)
	}
	if by.SG != 0 {
		out.ABV, out.ABVPlusMinus = figure(by.Strength), figure(by.StrengthPlusMinus)
	}
	return out
}

// levelJSON is the drink read off the marks of a vessel, and what the journal had.
type levelJSON struct {
	Seen     number  `json:"seen_l"`
	Reckoned number  `json:"journal_volume_l"`
	Short    *number `json:"missing_l"` // null where the two agree
}

func newLevelJSON(l model.Levelled) *levelJSON {
	if l.Entry == 0 {
		return nil
	}
	return &levelJSON{number(l.Seen), number(l.Reckoned), known(l.Short())}
}

// weighings returns the last weighing of each batch that was weighed since anything came
// or went, which the shelf does not hold: a journal is read for it.
func weighings(store ui.Store, shelf model.Shelf) (map[model.BatchID]*weighedJSON, error) {
	out := make(map[model.BatchID]*weighedJSON)
	for _, sum := range shelf.Batches {
		if sum.Weighed.At.IsZero() {
			continue
		}
		b, err := store.Batch(sum.Batch)
		if err != nil {
			return nil, err
		}
		s, err := model.Replay(b, sum.Weighed.At)
		if err != nil {
			continue // the shelf tells what is wrong with it
		}
		if k, ok := s.LastWeighing(); ok {
			out[sum.Batch] = newWeighedJSON(k, shelf.Tare(k.Vessel))
		}
	}
	return out, nil
}
