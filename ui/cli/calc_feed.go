package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcFeedCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "feed",
		Short: "nutrient for the yeast, and when to stir it in",
		Long: `Plan when to feed how much nitrogen. The published scales disagree, so say which:
low, medium or high is by the sugar and by how demanding the yeast is said to be;
table is that of wineries, by the Brix of a grape must; least is the least with which
a must finishes. --nitrogen is what the must has by itself: a honey must 10 to 50 mg/L,
apple juice 50 to 150.`,
		Example: `  glassrow calc feed --volume 19L --brix 24 --need medium --nitrogen 60
  glassrow calc feed --volume 19L --brix 24 --need low --with inactive_yeast --split thirds`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcFeed(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` of the must, as 19L or 5gal")
	cmd.Flags().String("brix", "", "`BRIX` of the must before yeast")
	cmd.Flags().String("need", "", "`SCALE`: low, medium, high, table or least")
	cmd.Flags().String("nitrogen", "0", "nitrogen that yeast can use, there already, in `MILLIGRAMS` per litre")
	cmd.Flags().String("with", "dap", "`NAME` of the nutrient, as in the handbook")
	cmd.Flags().String("split", string(calc.FeedQuarters), "how to share it out: halves, thirds or quarters")
	completeWords(cmd, "need", calc.NitrogenNeeds())
	completeWords(cmd, "split", calc.FeedSplits())
	completeRows(a, cmd, "with", a.Handbook.Nitrogen, nitrogenNames)
	return cmd
}

func nitrogenNames(n calc.NitrogenSource) []string { return listedNames(n.Listed) }

type doseJSON struct {
	When string `json:"when"`
	Mass number `json:"mass_g"`
}

func (a *app) calcFeed(cmd *cobra.Command) error {
	must, err := mustToFeed(cmd)
	if err != nil {
		return err
	}
	source, err := pick("nutrient", text(cmd, "with"), a.Handbook.Nitrogen, nitrogenNames)
	if err != nil {
		return err
	}
	plan, err := source.Plan(must, word[calc.FeedSplit](text(cmd, "split")))
	if err != nil {
		return err
	}
	object := struct {
		Target number     `json:"target_yan_mg_l"`
		Doses  []doseJSON `json:"doses"`
	}{number(plan.Target), []doseJSON{}}
	for _, d := range plan.Doses {
		object.Doses = append(object.Doses, doseJSON{strings.Join(marks(d, "h", ""), " or "), number(d.Mass)})
	}
	return a.answer(cmd, object, a.feedLines(plan, must.Need, source)...)
}

func mustToFeed(cmd *cobra.Command) (m calc.MustToFeed, err error) {
	if err := need(cmd, "volume", "brix", "need"); err != nil {
		return m, err
	}
	if m.Volume, err = model.ParseVolume(text(cmd, "volume")); err != nil {
		return m, err
	}
	brix, err := parseNumber(text(cmd, "brix"), "brix", "bx")
	if err != nil {
		return m, err
	}
	m.Original, m.Need = calc.Brix(brix), word[calc.NitrogenNeed](text(cmd, "need"))
	m.Nitrogen, err = parseMilligrams(text(cmd, "nitrogen"), "nitrogen")
	return m, err
}

func (a *app) feedLines(f calc.Feeding, need calc.NitrogenNeed, source calc.NitrogenSource) []string {
	say := a.words(model.Settings{})
	out := []string{fmt.Sprintf("%.0f mg/L of nitrogen wanted, by the scale %s", float64(f.Target), need)}
	if len(f.Doses) == 0 {
		return append(out, "the must has that already: add nothing")
	}
	out = append(out, fmt.Sprintf("%s of %s in all, for %.0f mg/L", scales(f.Mass, say), source.Name, float64(f.Add)))
	for _, d := range f.Doses {
		out = append(out, fmt.Sprintf("  %s %s", fit(scales(d.Mass, say), 8, true), strings.Join(marks(d, " h after pitching", "at "), " or ")))
	}
	if f.OverMost() {
		out = append(out, fmt.Sprintf("More than the %s that rules allow or makers advise:", scales(f.Most, say)), "take another nutrient for the rest.")
	}
	return append(out, "Stir or swirl the gas out before powder goes in, or it boils over. Not at", "rehydration, and nothing once 9 % vol are reached.")
}

// marks say when a dose is due, hours and gravity; of two the first to come counts.
func marks(d calc.FeedDose, hours, at string) []string {
	var out []string
	if d.After > 0 {
		out = append(out, fmt.Sprintf("%.0f%s", d.After.Hours(), hours))
	}
	if d.SG > 0 {
		out = append(out, fmt.Sprintf("%s%.3f", at, float64(d.SG)))
	}
	return out
}
