package data

import (
	"fmt"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Records of what happens to a batch in its vessel, between batches, and after.

// fruitRecord is fruit with what it was taken to be made of.
type fruitRecord struct {
	Name     string             `json:"name"`
	Mass     float64            `json:"mass_g"`
	Juice    map[string]float64 `json:"juice"` // share of each component by mass of the edible part
	Pulp     float64            `json:"pulp"`
	Starch   float64            `json:"starch,omitempty"`
	Refuse   float64            `json:"refuse,omitempty"`
	HalfTime float64            `json:"half_time_h,omitempty"`
	PH       [2]float64         `json:"ph"`
	Acid     [2]float64         `json:"acid_g_kg"`
	Prepared bool               `json:"prepared,omitempty"`
	Crushed  bool               `json:"crushed,omitempty"`
}

type fruitedRecord struct {
	Portion fruitRecord `json:"portion"`
}

type pressRecord struct {
	Volume float64 `json:"volume_l,omitempty"`
}

type fineRecord struct {
	Agent string  `json:"agent"`
	Mass  float64 `json:"mass_g,omitempty"`
}

type stirRecord struct{}

type moveRecord struct {
	Place string `json:"place"`
}

type planOfFeedsRecord struct {
	Doses []mealRecord `json:"doses"`
}

type mealRecord struct {
	What  string             `json:"what"`
	Mass  float64            `json:"mass_g,omitempty"`
	Mark  float64            `json:"mark,omitempty"`
	After float64            `json:"after_h,omitempty"`
	Sugar map[string]float64 `json:"sugar,omitempty"` // share of each component by mass
}

type feedRecord struct {
	What     string  `json:"what"`
	Mass     float64 `json:"mass_g,omitempty"`
	Nitrogen float64 `json:"nitrogen_mg_l,omitempty"`
	Plan     uint64  `json:"plan,omitempty"`
	Dose     int     `json:"dose,omitempty"`
}

type drawRecord struct {
	Volume float64 `json:"volume_l"`
	To     uint64  `json:"to,omitempty"`
	Why    string  `json:"why,omitempty"`
}

type pourRecord struct {
	From      uint64             `json:"from,omitempty"`
	Name      string             `json:"name"`
	Grams     map[string]float64 `json:"grams"` // of each component
	Tolerance float64            `json:"tolerance_pct_vol,omitempty"`
}

type partRecord struct {
	From   uint64  `json:"from"`
	Name   string  `json:"name"`
	Vessel uint64  `json:"vessel"`
	Volume float64 `json:"volume_l"`
}

type tastedRecord struct {
	Bottles int      `json:"bottles,omitempty"`
	Mark    *float64 `json:"mark,omitempty"`
	Words   string   `json:"words,omitempty"`
}

type reminderRecord struct {
	What string    `json:"what"`
	Due  time.Time `json:"due"`
	By   string    `json:"by,omitempty"` // kind of the entry that does it
}

type distrustRecord struct {
	From   time.Time `json:"from"`
	To     time.Time `json:"to"`
	Reason string    `json:"reason,omitempty"`
}

type tickRecord struct {
	Due   string    `json:"due"`
	Until time.Time `json:"until,omitzero"`
	Words string    `json:"words,omitempty"`
}

// fromLiquid returns the parts of a liquid by name.
func fromLiquid(l calc.Liquid) map[string]float64 {
	parts := make(map[string]float64)
	for _, c := range calc.Components() {
		if g := l.Of(c); g != 0 {
			parts[c.String()] = float64(g)
		}
	}
	return parts
}

// toLiquid returns the liquid of parts by name; whose is for the error.
func toLiquid(whose string, parts map[string]float64) (calc.Liquid, error) {
	grams := make(map[calc.Component]calc.Gram, len(parts))
	for name, g := range parts {
		c, ok := calc.ComponentNamed(name)
		if !ok {
			return calc.Liquid{}, fmt.Errorf("%s holds %q, which this program does not know", whose, name)
		}
		grams[c] = calc.Gram(g)
	}
	l, err := calc.NewLiquid(grams)
	if err != nil {
		return calc.Liquid{}, fmt.Errorf("composition of %s: %w", whose, err)
	}
	return l, nil
}

func fromFruit(p calc.FruitPortion) fruitRecord {
	f := p.Fruit
	return fruitRecord{
		Name: f.Name, Mass: float64(p.Mass), Juice: fromLiquid(f.Juice), Pulp: f.Pulp, Starch: f.Starch, Refuse: f.Refuse,
		HalfTime: f.HalfTime.Hours(), PH: [2]float64{f.PH.Low, f.PH.High}, Acid: [2]float64{f.Acid.Low, f.Acid.High},
		Prepared: p.Prepared, Crushed: p.Crushed,
	}
}

func toFruit(r fruitRecord) (calc.FruitPortion, error) {
	juice, err := toLiquid(r.Name, r.Juice)
	if err != nil {
		return calc.FruitPortion{}, err
	}
	return calc.FruitPortion{
		Fruit: calc.Fruit{
			Name: r.Name, Juice: juice, Pulp: r.Pulp, Starch: r.Starch, Refuse: r.Refuse,
			HalfTime: time.Duration(r.HalfTime * float64(time.Hour)),
			PH:       calc.Span{Low: r.PH[0], High: r.PH[1]}, Acid: calc.Span{Low: r.Acid[0], High: r.Acid[1]},
		},
		Mass: calc.Gram(r.Mass), Prepared: r.Prepared, Crushed: r.Crushed,
	}, nil
}

// fromLaterBody returns the record of the kinds of this file, and whether it is one.
func fromLaterBody(body model.Body) (any, bool) {
	switch b := body.(type) {
	case model.Fruited:
		return fruitedRecord{fromFruit(b.Portion)}, true
	case model.Press:
		return pressRecord{float64(b.Volume)}, true
	case model.Fine:
		return fineRecord{b.Agent, float64(b.Mass)}, true
	case model.Stir:
		return stirRecord{}, true
	case model.Move:
		return moveRecord{b.Place}, true
	case model.FeedPlan:
		return fromFeedPlan(b), true
	case model.Feed:
		return feedRecord{b.What, float64(b.Mass), float64(b.Nitrogen), uint64(b.Plan), b.Dose}, true
	case model.Draw:
		return drawRecord{float64(b.Volume), uint64(b.To), b.Why}, true
	case model.Pour:
		return pourRecord{uint64(b.From), b.Name, fromLiquid(b.Liquid), float64(b.Tolerance)}, true
	case model.Part:
		return partRecord{uint64(b.From), b.Name, uint64(b.Vessel), float64(b.Volume)}, true
	case model.Tasted:
		r := tastedRecord{Bottles: b.Bottles, Words: b.Words}
		if b.Marked {
			r.Mark = &b.Mark
		}
		return r, true
	case model.Reminder:
		return reminderRecord{b.What, b.Due.UTC(), string(b.By)}, true
	case model.Tick:
		return tickRecord{b.Due, b.Until.UTC(), b.Words}, true
	case model.Distrust:
		return distrustRecord{b.From.UTC(), b.To.UTC(), b.Reason}, true
	}
	return nil, false
}

func fromFeedPlan(p model.FeedPlan) planOfFeedsRecord {
	r := planOfFeedsRecord{Doses: make([]mealRecord, len(p.Doses))}
	for i, d := range p.Doses {
		r.Doses[i] = mealRecord{d.What, float64(d.Mass), float64(d.Mark), d.After.Hours(), fromLiquid(d.Sugar)}
	}
	return r
}

func toFeedPlan(r planOfFeedsRecord) (model.Body, error) {
	p := model.FeedPlan{Doses: make([]model.Meal, len(r.Doses))}
	for i, d := range r.Doses {
		sugar, err := toLiquid(d.What, d.Sugar)
		if err != nil {
			return nil, err
		}
		p.Doses[i] = model.Meal{What: d.What, Mass: calc.Gram(d.Mass), Mark: calc.SG(d.Mark),
			After: time.Duration(d.After * float64(time.Hour)), Sugar: sugar}
	}
	return p, nil
}

// laterBodies reads the kinds of this file.
func laterBodies() map[model.Kind]func([]byte) (model.Body, error) {
	return map[model.Kind]func([]byte) (model.Body, error){
		model.KindFruit: recordOf(func(r fruitedRecord) (model.Body, error) {
			p, err := toFruit(r.Portion)
			return model.Fruited{Portion: p}, err
		}),
		model.KindPress: recordOf(func(r pressRecord) (model.Body, error) { return model.Press{Volume: calc.Litre(r.Volume)}, nil }),
		model.KindFine: recordOf(func(r fineRecord) (model.Body, error) {
			return model.Fine{Agent: r.Agent, Mass: calc.Gram(r.Mass)}, nil
		}),
		model.KindStir: recordOf(func(stirRecord) (model.Body, error) { return model.Stir{}, nil }),
		model.KindMove: recordOf(func(r moveRecord) (model.Body, error) { return model.Move{Place: r.Place}, nil }),
		model.KindPlan: recordOf(toFeedPlan),
		model.KindFeed: recordOf(func(r feedRecord) (model.Body, error) {
			return model.Feed{What: r.What, Mass: calc.Gram(r.Mass), Nitrogen: calc.MilligramPerLitre(r.Nitrogen),
				Plan: model.EntryID(r.Plan), Dose: r.Dose}, nil
		}),
		model.KindDraw: recordOf(func(r drawRecord) (model.Body, error) {
			return model.Draw{Volume: calc.Litre(r.Volume), To: model.BatchID(r.To), Why: r.Why}, nil
		}),
		model.KindPour: recordOf(func(r pourRecord) (model.Body, error) {
			l, err := toLiquid(r.Name, r.Grams)
			return model.Pour{From: model.BatchID(r.From), Name: r.Name, Liquid: l, Tolerance: calc.PercentVol(r.Tolerance)}, err
		}),
		model.KindPart: recordOf(func(r partRecord) (model.Body, error) {
			return model.Part{From: model.BatchID(r.From), Name: r.Name, Vessel: model.VesselID(r.Vessel), Volume: calc.Litre(r.Volume)}, nil
		}),
		model.KindTaste: recordOf(func(r tastedRecord) (model.Body, error) {
			b := model.Tasted{Bottles: r.Bottles, Words: r.Words}
			if r.Mark != nil {
				b.Marked, b.Mark = true, *r.Mark
			}
			return b, nil
		}),
		model.KindRemind: recordOf(func(r reminderRecord) (model.Body, error) {
			return model.Reminder{What: r.What, Due: r.Due, By: model.Kind(r.By)}, nil
		}),
		model.KindDistrust: recordOf(func(r distrustRecord) (model.Body, error) {
			return model.Distrust{From: r.From, To: r.To, Reason: r.Reason}, nil
		}),
		model.KindTick: recordOf(func(r tickRecord) (model.Body, error) {
			return model.Tick{Due: r.Due, Until: r.Until, Words: r.Words}, nil
		}),
	}
}

// recordOf returns how to read a record of one kind.
func recordOf[R any](to func(R) (model.Body, error)) func([]byte) (model.Body, error) {
	return func(raw []byte) (model.Body, error) { return decoded(raw, to) }
}
