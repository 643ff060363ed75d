package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) calcMustCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "must",
		Short: "a must from sugars, honey, juice and fruit",
		Long: `Work out a must from what goes into it. --volume tops up with water to that much in
the vessel; --water pours that much water on, so that the volume grows. Fruit is
weighed as bought and goes in mashed: stones and peel are taken off, the pulp takes up
room, and part of its sugar arrives over days.`,
		Example: `  glassrow calc must --volume 4.5L --add "honey 1.5kg" --add "blackcurrant 500g"
  glassrow calc must --water 1gal --add "white sugar 2lb"`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcMust(cmd) },
	}
	cmd.Flags().String("volume", "", "`VOLUME` to make up to, as 4.5L or 1gal")
	cmd.Flags().String("water", "", "`VOLUME` of water to pour on")
	cmd.Flags().StringArray("add", nil, "what goes in, as `\"honey 1.5kg\"`; may be repeated")
	_ = cmd.RegisterFlagCompletionFunc("add", a.completeStuff)
	return cmd
}

type mustJSON struct {
	SG            *number           `json:"sg"` // null: nothing yet that floats a hydrometer
	Volume        number            `json:"volume_l"`
	Potential     number            `json:"potential_abv_pct"`
	Sugar         number            `json:"sugar_g_l"`
	LateSugar     number            `json:"late_sugar_g"`
	Sugars        map[string]number `json:"sugars_g"`
	Unfermentable number            `json:"unfermentable_g"`
}

func newMustJSON(f calc.MustFigures, all calc.Liquid) mustJSON {
	out := mustJSON{
		SG: known(f.SG), Volume: number(f.Volume), Potential: number(f.Potential), Sugar: number(f.Sugar),
		LateSugar: number(f.LateSugar), Sugars: map[string]number{}, Unfermentable: number(f.Unfermentable),
	}
	for _, c := range calc.Components() {
		if c.Sugar() {
			out.Sugars[c.String()] = number(all.Of(c))
		}
	}
	return out
}

func (a *app) calcMust(cmd *cobra.Command) error {
	if err := need(cmd, "add"); err != nil {
		return err
	}
	portions, err := cmd.Flags().GetStringArray("add")
	if err != nil {
		return err
	}
	must, err := a.plannedMust(cmd, portions)
	if err != nil {
		return err
	}
	f, err := must.Figures()
	if err != nil {
		return err
	}
	say := a.words(model.Settings{})
	all := must.AllOut()
	object := newMustJSON(f, all)
	told := mustLines(f, all, say)
	told = append(told, a.yeastLines(f.Potential)...)
	return a.answer(cmd, object, append(told, a.larderCautions(portions)...)...)
}

// plannedMust is the must that the flags describe.
func (a *app) plannedMust(cmd *cobra.Command, portions []string) (calc.Must, error) {
	flag, err := oneOf(cmd, "volume", "water")
	if err != nil {
		return calc.Must{}, err
	}
	volume, err := model.ParseVolume(text(cmd, flag))
	if err != nil {
		return calc.Must{}, err
	}
	var water calc.Liquid
	if flag == "water" {
		if water, err = calc.WaterOf(volume); err != nil {
			return calc.Must{}, err
		}
	}
	must, err := a.larder().Must(water, portions, true)
	if err != nil || flag == "water" {
		return must, err
	}
	full, err := must.MadeUpTo(volume)
	if errors.Is(err, calc.ErrUnreachable) {
		err = fmt.Errorf("--volume %s does not hold it all; take more, or say --water: %w", text(cmd, flag), err)
	}
	return full, err
}

func mustLines(f calc.MustFigures, all calc.Liquid, say words.Words) []string {
	gravity := fmt.Sprintf("%s SG", say.FineGravity(f.SG))
	switch {
	case f.SG == 0:
		gravity = fmt.Sprintf("nothing yet that floats a hydrometer; %s SG once the juice is out", say.FineGravity(f.SGAllOut))
	case say.FineGravity(f.SG) != say.FineGravity(f.SGAllOut):
		gravity += fmt.Sprintf(" on the first day, %s if all juice were out", say.FineGravity(f.SGAllOut))
	}
	out := []string{
		gravity,
		fmt.Sprintf("%s in the vessel", say.FineVolume(f.Volume)),
		fmt.Sprintf("%.1f %% vol potential", float64(f.Potential)),
		fmt.Sprintf("%s of sugar: %s", say.PerLitre(f.Sugar), sugarsIn(all, say)),
	}
	if f.LateSugar >= 1 {
		out = append(out, fmt.Sprintf("%s of it arrives from the fruit over days; fruit varies by a tenth and more", say.Mass(f.LateSugar)))
	}
	if f.Unfermentable >= 1 {
		out = append(out, fmt.Sprintf("%s dissolved that yeast leaves", say.Mass(f.Unfermentable)))
	}
	if f.Starch >= 10 {
		out = append(out, fmt.Sprintf("%s of starch, which is no sugar to yeast as it is", say.Mass(f.Starch)))
	}
	return out
}

// sugarsIn lists the sugars of which there is at least a gram.
func sugarsIn(l calc.Liquid, say words.Words) string {
	var parts []string
	for _, c := range calc.Components() {
		if c.Sugar() && l.Of(c) >= 1 {
			parts = append(parts, say.Mass(l.Of(c))+" "+c.String())
		}
	}
	if len(parts) == 0 {
		return "next to none"
	}
	return strings.Join(parts, ", ")
}

// yeastLines name the kinds of yeast that would stop before all is fermented.
func (a *app) yeastLines(potential calc.PercentVol) []string {
	var names []string
	for _, k := range a.Handbook.Yeasts {
		if k.Tolerance.High < potential {
			names = append(names, k.Name())
		}
	}
	if len(names) == 0 {
		return nil
	}
	return cells.Wrap("Would stop sooner and leave sugar: "+strings.Join(names, ", ")+".", defaultWidth)
}

// larderCautions are the cautions of what goes in, each once.
func (a *app) larderCautions(portions []string) []string {
	var told, out []string
	for _, p := range portions {
		name, _, err := model.ParsePortion(p)
		if err != nil {
			continue // the must has complained
		}
		stuff, err := a.larder().Find(name)
		if err != nil || stuff.Caution() == "" || slices.Contains(told, stuff.Caution()) {
			continue
		}
		told = append(told, stuff.Caution())
		out = append(out, cells.Wrap(stuff.Name()+": "+stuff.Caution(), defaultWidth)...)
	}
	return out
}
