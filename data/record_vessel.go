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

func fromTasted(t model.Tasted) tastedRecord {
	r := tastedRecord{Bottles: t.Bottles, Words: t.Words}
	if t.Marked {
		r.Mark = &t.Mark
	}
	return r
}

func toTasted(r tastedRecord) (model.Tasted, error) {
	t := model.Tasted{Bottles: r.Bottles, Words: r.Words}
	if r.Mark != nil {
		t.Marked, t.Mark = true, *r.Mark
	}
	return t, nil
}

func fromFeedPlan(p model.FeedPlan) planOfFeedsRecord {
	r := planOfFeedsRecord{Doses: make([]mealRecord, len(p.Doses))}
	for i, d := range p.Doses {
		r.Doses[i] = mealRecord{d.What, float64(d.Mass), float64(d.Mark), d.After.Hours(), fromLiquid(d.Sugar)}
	}
	return r
}

func toFeedPlan(r planOfFeedsRecord) (model.FeedPlan, error) {
	p := model.FeedPlan{Doses: make([]model.Meal, len(r.Doses))}
	for i, d := range r.Doses {
		sugar, err := toLiquid(d.What, d.Sugar)
		if err != nil {
			return p, err
		}
		p.Doses[i] = model.Meal{What: d.What, Mass: calc.Gram(d.Mass), Mark: calc.SG(d.Mark),
			After: time.Duration(d.After * float64(time.Hour)), Sugar: sugar}
	}
	return p, nil
}
