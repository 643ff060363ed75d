package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) handbookCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "handbook NAME",
		Short: "what a sweetener or a fruit is made of",
		Long: `Show a sweetener or a fruit of the handbook: what a hundred grams of it hold, whom it
can hurt, and where the figures are from.`,
		Example:           "  glassrow handbook honey\n  glassrow handbook black currant --json",
		Args:              takes(1, -1, "a name"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.handbook(cmd, strings.Join(args, " ")) },
		ValidArgsFunction: a.completeLarder,
	}
	jsonFlag(cmd)
	return cmd
}

// completeLarder offers the sweeteners and the fruit.
func (a *app) completeLarder(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	out, directive := a.completeSweetener(cmd, args, begun)
	say := a.words(model.Settings{})
	for _, f := range a.Handbook.Fruits {
		if hasPrefixFold(f.ID, begun) {
			out = append(out, say.Text(f.ID)+"\t"+say.Text(f.Name()))
		}
	}
	return out, directive
}

// rowJSON is a row of the handbook. Parts are percent by mass of what goes in, fruit
// without its waste.
type rowJSON struct {
	ID          string            `json:"id"`
	Name        string            `json:"name"`
	Aliases     []string          `json:"aliases"`
	Form        string            `json:"form"`
	Parts       map[string]number `json:"parts_pct"`
	Fermentable number            `json:"fermentable_pct"`
	Pulp        *number           `json:"insoluble_pct,omitempty"`
	Starch      *number           `json:"starch_pct,omitempty"`
	Refuse      *number           `json:"refuse_pct,omitempty"`
	PH          []number          `json:"ph,omitempty"`        // lowest and highest
	Acid        []number          `json:"acid_g_kg,omitempty"` // likewise
	KgPerLitre  *number           `json:"kg_per_litre,omitempty"`
	CupGrams    *number           `json:"cup_g,omitempty"`
	Caution     string            `json:"caution"`
	Notes       string            `json:"notes"`
	Source      string            `json:"source"`
}

func (a *app) handbook(cmd *cobra.Command, name string) error {
	stuff, err := a.larder().Find(name)
	if err != nil {
		return err
	}
	row, juice := sweetenerRow(stuff.Sweetener), stuff.Sweetener.Ingredient.PerGram
	if stuff.IsFruit() {
		row, juice = fruitRow(stuff.Fruit), stuff.Fruit.Fruit.Juice
	}
	row.Parts, row.Fermentable = partsOf(juice), percent(juice.Fermentable())
	return a.answer(cmd, row, rowLines(row, juice)...)
}

func sweetenerRow(s model.Sweetener) rowJSON {
	return rowJSON{
		ID: s.ID, Name: s.Name(), Aliases: append([]string{}, s.Aliases...), Form: s.Form, KgPerLitre: known(s.KgPerLitre), CupGrams: known(s.CupGrams),
		Caution: s.Caution, Notes: s.Notes, Source: s.Source,
	}
}

func fruitRow(f model.Fruit) rowJSON {
	return rowJSON{
		ID: f.ID, Name: f.Name(), Aliases: append([]string{}, f.Aliases...), Form: f.Form,
		Pulp: figure(percent(f.Fruit.Pulp)), Starch: figure(percent(f.Fruit.Starch)), Refuse: figure(percent(f.Fruit.Refuse)),
		PH: span(f.Fruit.PH), Acid: span(f.Fruit.Acid),
		Caution: f.Caution, Notes: f.Notes, Source: f.Source,
	}
}

func span(s calc.Span) []number {
	if !s.Known() {
		return nil
	}
	return []number{number(s.Low), number(s.High)}
}

func percent[T ~float64](share T) number { return number(100 * share) }

func partsOf(l calc.Liquid) map[string]number {
	parts := map[string]number{}
	for _, c := range calc.Components() {
		if l.Of(c) > 0 {
			parts[c.String()] = percent(l.Of(c))
		}
	}
	return parts
}

func rowLines(r rowJSON, l calc.Liquid) []string {
	out := []string{r.Name + ", " + r.Form}
	if len(r.Aliases) > 0 {
		out = append(out, wrap("also: "+strings.Join(r.Aliases, ", "), defaultWidth)...)
	}
	out = append(out, wrap("in 100 g: "+strings.Join(partsText(r, l), ", "), defaultWidth)...)
	out = append(out, fmt.Sprintf("yeast can use %.1f g of that", float64(r.Fermentable)))
	if r.Refuse != nil && *r.Refuse > 0 {
		out = append(out, fmt.Sprintf("%.0f %% of it as bought is stones, cores or peel, and not in these figures", float64(*r.Refuse)))
	}
	if r.PH != nil {
		out = append(out, fmt.Sprintf("pH %s", spanText(r.PH, "%.1f")))
	}
	if r.Acid != nil {
		out = append(out, fmt.Sprintf("%s g/kg of acid", spanText(r.Acid, "%.3g")))
	}
	if r.KgPerLitre != nil {
		out = append(out, fmt.Sprintf("%.2f kg to the litre", float64(*r.KgPerLitre)))
	}
	if r.CupGrams != nil {
		out = append(out, fmt.Sprintf("%.0f g in a level US cup", float64(*r.CupGrams)))
	}
	for _, line := range []string{r.Caution, r.Notes, "Source: " + r.Source} {
		out = append(out, wrap(line, defaultWidth)...)
	}
	return out
}

func partsText(r rowJSON, l calc.Liquid) []string {
	var parts []string
	for _, c := range calc.Components() {
		if l.Of(c) > 0 {
			parts = append(parts, fmt.Sprintf("%.4g g %s", float64(r.Parts[c.String()]), c))
		}
	}
	if r.Pulp != nil && *r.Pulp > 0 {
		parts = append(parts, fmt.Sprintf("%.4g g that never dissolves", float64(*r.Pulp)))
	}
	if r.Starch != nil && *r.Starch > 0 {
		parts = append(parts, fmt.Sprintf("starch %.4g g of that", float64(*r.Starch)))
	}
	return parts
}

func spanText(s []number, format string) string {
	low, high := fmt.Sprintf(format, float64(s[0])), fmt.Sprintf(format, float64(s[1]))
	if low == high {
		return low
	}
	return low + " to " + high
}
