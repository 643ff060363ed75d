package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
)

func (a *app) handbookCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "handbook [NAME]",
		Short: "what sweeteners and fruit are made of, and rows of your own",
		Long: `Show a sweetener or a fruit of the handbook: what a hundred grams of it hold, what it
gives, whom it can hurt, and where the figures are from.

Without a name, or with --sweeteners, --fruit, --own or --sort, list the rows; words
then search names, aliases and kinds.`,
		Example: "  glassrow handbook honey\n  glassrow handbook black currant --json\n  glassrow handbook --fruit --sort sugar berry",
		Args:    takes(0, -1, ""),
		RunE: func(cmd *cobra.Command, args []string) error {
			words := strings.Join(args, " ")
			if words == "" || lists(cmd) {
				return a.listHandbook(cmd, words)
			}
			return a.handbook(cmd, words)
		},
		ValidArgsFunction: a.completeLarder,
		Annotations:       map[string]string{takesWords: ""},
	}
	cmd.Flags().Bool("sweeteners", false, "list sweeteners")
	cmd.Flags().Bool("fruit", false, "list fruit")
	cmd.Flags().Bool("own", false, "list your own rows only")
	cmd.Flags().String("sort", string(model.AsListed), "`ORDER` of the list: "+orderNames(model.FruitTable))
	completeWords(cmd, "sort", model.OrdersOf(model.FruitTable))
	jsonFlag(cmd)
	cmd.AddCommand(a.handbookAddCommand(), a.handbookChangeCommand(), a.handbookRemoveCommand())
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
	Table       string            `json:"table"`
	Own         bool              `json:"own"`
	ID          string            `json:"id"`
	Name        string            `json:"name"`
	Aliases     []string          `json:"aliases"`
	Form        string            `json:"form"`
	Parts       map[string]number `json:"parts_pct"`
	Sugar       number            `json:"sugar_pct"` // lactose included
	Fermentable number            `json:"fermentable_pct"`
	Pulp        *number           `json:"insoluble_pct,omitempty"`
	Starch      *number           `json:"starch_pct,omitempty"`
	Refuse      *number           `json:"refuse_pct,omitempty"`
	PH          []number          `json:"ph,omitempty"`          // lowest and highest
	Acid        []number          `json:"acid_g_kg,omitempty"`   // likewise
	HalfTime    *number           `json:"half_time_h,omitempty"` // half the juice is out of the whole fruit
	KgPerLitre  *number           `json:"kg_per_litre,omitempty"`
	CupGrams    *number           `json:"cup_g,omitempty"`
	Share       number            `json:"fermentable_share"`       // of what dissolves
	Sweetness   number            `json:"sweetness"`               // of a gram against table sugar
	MetricSG    *number           `json:"sg_100g_per_l,omitempty"` // as bought, made up with water
	USSG        *number           `json:"sg_lb_per_gal,omitempty"`
	Caution     string            `json:"caution"`
	Notes       string            `json:"notes"`
	Source      string            `json:"source"`
}

func (a *app) handbook(cmd *cobra.Command, name string) error {
	stuff, err := a.larder().Find(name)
	if err != nil {
		return err
	}
	row := rowOf(stuff)
	return a.answer(cmd, row, rowLines(row, stuff.Gram())...)
}

// rowOf is everything about a row.
func rowOf(s model.Stuff) rowJSON {
	row, gram := sweetenerRow(s.Sweetener), s.Gram()
	if s.IsFruit() {
		row = fruitRow(s.Fruit)
	}
	row.Table, row.Own = string(s.Table()), s.Origin().Own()
	row.Parts, row.Sugar, row.Fermentable = partsOf(gram), percent(gram.Sugar()), percent(gram.Fermentable())
	row.Share, row.Sweetness = number(gram.FermentableShare()), number(gram.Sweetness())
	if s.Intense() {
		return row // milligrams of it: no hydrometer notices
	}
	if sg, err := s.Gravity(100, 1); err == nil {
		row.MetricSG = figure(sg)
	}
	if sg, err := s.Gravity(calc.GramsPerPound, calc.LitresPerUSGallon); err == nil {
		row.USSG = figure(sg)
	}
	return row
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
		HalfTime: known(f.Fruit.HalfTime.Hours()), PH: span(f.Fruit.PH), Acid: span(f.Fruit.Acid),
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
	if r.Own {
		out[0] += "; your own row"
	}
	if len(r.Aliases) > 0 {
		out = append(out, cells.Wrap("also: "+strings.Join(r.Aliases, ", "), defaultWidth)...)
	}
	out = append(out, cells.Wrap("in 100 g: "+strings.Join(partsText(r, l), ", "), defaultWidth)...)
	out = append(out, fmt.Sprintf("yeast can use %.1f g of that", float64(r.Fermentable)))
	if r.MetricSG != nil && r.USSG != nil {
		out = append(out, fmt.Sprintf("100 g made up to a litre read %.4f, a pound made up to a US gallon %.4f", float64(*r.MetricSG), float64(*r.USSG)))
	}
	if r.HalfTime != nil {
		out = append(out, fmt.Sprintf("half of it leaves the whole fruit in %.0f hours, sooner when mashed", float64(*r.HalfTime)))
	}
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
		out = append(out, cells.Wrap(line, defaultWidth)...)
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
