package cli

import (
	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// recipeJSON is a recipe for scripts; what it comes to is under the keys of calc must.
type recipeJSON struct {
	Name  string           `json:"name"`
	Kind  string           `json:"kind"`
	Items []recipeItemJSON `json:"items"`
	Water number           `json:"water_g"`
	Fill  *number          `json:"fill_l"` // null: the water is as it is
	Yeast *string          `json:"yeast"`
	mustJSON
	SGAllOut  number           `json:"sg_all_out"`
	FirstSG   *number          `json:"first_day_sg"`
	FirstDay  number           `json:"first_day_volume_l"`
	Feeds     []recipeFeedJSON `json:"feeds"`
	Left      []yeastLeftJSON  `json:"left"`
	PHLow     *number          `json:"ph_low"`
	PHHigh    *number          `json:"ph_high"`
	PHAbout   *number          `json:"ph_about"` // these four: null without an acid or a carbonate
	TALow     *number          `json:"acidity_low_g_l"`
	TAHigh    *number          `json:"acidity_high_g_l"`
	TAAbout   *number          `json:"acidity_about_g_l"`
	Advice    []string         `json:"acid_advice"`
	Nutrient  *nutrientJSON    `json:"nutrient"`
	Wanted    *number          `json:"nitrogen_wanted_mg_l"` // at medium need
	ThereLow  number           `json:"nitrogen_low_mg_l"`
	ThereHigh number           `json:"nitrogen_high_mg_l"`
	Unknown   []string         `json:"nitrogen_unknown"`
	Cost      number           `json:"cost"`
	Unpriced  []string         `json:"unpriced"`
	Cautions  []string         `json:"cautions"`
}

type recipeItemJSON struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Mass     number `json:"mass_g"`
	Aim      string `json:"aim,omitempty"`
	Crushed  bool   `json:"crushed,omitempty"`
	Prepared bool   `json:"prepared,omitempty"`
	Held     number `json:"held"`
}

type nutrientJSON struct {
	Name     string     `json:"name"`
	Mass     number     `json:"mass_g"`
	Missing  bool       `json:"missing"` // the mass follows what is missing
	Split    string     `json:"split"`
	Nitrogen number     `json:"nitrogen_mg_l"`
	Doses    []mealJSON `json:"doses"`
	OverMost bool       `json:"over_most"`
}

// mealJSON is due by the first of its marks; one that is null is none.
type mealJSON struct {
	Mass  number  `json:"mass_g"`
	Mark  *number `json:"sg"`
	After *number `json:"after_h"`
}

type recipeFeedJSON struct {
	Mark number `json:"sg"`
	Mass number `json:"mass_g"`
}

type yeastLeftJSON struct {
	Yeast     string `json:"yeast"`
	Tolerance number `json:"tolerance_pct"`
	SG        number `json:"sg"`
	ABV       number `json:"abv_pct"`
	Sugar     number `json:"residual_sugar_g_l"`
}

func newRecipeJSON(r model.Recipe, f model.RecipeFigures, set model.Settings) recipeJSON {
	cost, unpriced := r.Cost(set.Prices)
	out := recipeJSON{
		Name: r.Name, Kind: string(r.Drink), Water: number(r.Water), Fill: known(r.Fill), mustJSON: newMustJSON(f.Whole, f.All),
		Items: []recipeItemJSON{}, Feeds: []recipeFeedJSON{}, Left: []yeastLeftJSON{},
		SGAllOut: number(f.Whole.SGAllOut), FirstSG: known(f.First.SG), FirstDay: number(f.First.Volume), PHLow: known(f.PH.Low), PHHigh: known(f.PH.High),
		ThereLow: number(f.Nitrogen.Low), ThereHigh: number(f.Nitrogen.High), Unknown: append([]string{}, f.Nitrogen.Unknown...),
		Cost: number(cost), Unpriced: append([]string{}, unpriced...), Cautions: append([]string{}, r.Cautions()...),
		Advice: append([]string{}, r.AcidAdvice(f)...),
	}
	if s := f.Soured; s != nil {
		out.PHAbout, out.TALow, out.TAHigh, out.TAAbout = figure(s.AboutPH), figure(s.Acidity.Low), figure(s.Acidity.High), figure(s.AboutAcidity)
	}
	if n := r.Nutrient; n.Set() {
		fed := nutrientJSON{Name: n.Name, Mass: number(n.Mass), Missing: n.Missing, Split: string(n.Split), Nitrogen: number(r.NutrientBrings(f)),
			Doses: []mealJSON{}, OverMost: r.TooMuchNutrient(f)}
		for _, m := range f.Meals {
			fed.Doses = append(fed.Doses, mealJSON{number(m.Mass), known(m.Mark), known(m.After.Hours())})
		}
		out.Nutrient = &fed
	}
	if r.Yeast != "" {
		yeast := string(r.Yeast)
		out.Yeast = &yeast
	}
	if want, ok := f.NitrogenWanted(calc.MediumNeed); ok {
		out.Wanted = figure(want)
	}
	for _, i := range r.Items {
		out.Items = append(out.Items, recipeItemJSON{ID: i.Stuff.ID(), Name: i.Stuff.Name(), Mass: number(i.Mass), Aim: i.Aim.Text(),
			Crushed: i.Crushed, Prepared: i.Prepared, Held: number(i.Held)})
	}
	for _, d := range f.Feeds {
		feed := recipeFeedJSON{Mark: number(d.Mark)}
		for _, p := range d.Parts {
			feed.Mass += number(p.Mass)
		}
		out.Feeds = append(out.Feeds, feed)
	}
	for _, y := range f.Left {
		out.Left = append(out.Left, yeastLeftJSON{string(y.Yeast), number(y.Tolerance), number(y.Figures.SG), number(y.Figures.Strength), number(y.Figures.Sugar)})
	}
	return out
}
