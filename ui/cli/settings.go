package cli

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) settingsCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "settings",
		Short: "what holds for the whole cellar, and change it",
		Long: `Show what holds for the whole cellar, or change it: its name, litres or gallons on
the screen, the temperature that the hydrometer was made for, and what a kilogram of a
sweetener or a fruit costs, in whatever money you count in; 0 is not known.

Readings that are written down already keep the hydrometer they were taken with.`,
		Example: `  glassrow settings
  glassrow settings --name "Creek cellar" --units us --hydrometer 60F
  glassrow settings --price honey=12.50 --price damson=3`,
		Args:              takes(0, 0, "no more"),
		RunE:              func(cmd *cobra.Command, _ []string) error { return a.settings(cmd) },
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := cmd.Flags()
	f.String("name", "", "what the cellar is called")
	f.String("units", "", "metric or us")
	f.String("hydrometer", "", "`TEMPERATURE` it was made for, as 20C or 60F")
	f.StringArray("price", nil, "price a kilogram, as `honey=12.50`; may be repeated")
	_ = cmd.RegisterFlagCompletionFunc("price", a.completeStuff)
	completeWords(cmd, "units", []string{metricUnits, usUnits})
	jsonFlag(cmd)
	return cmd
}

const metricUnits, usUnits = "metric", "us"

func (a *app) settings(cmd *cobra.Command) error {
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	set, changed, err := a.changedSettings(cmd, shelf.Settings)
	if err != nil {
		return err
	}
	if changed {
		if err := store.SaveSettings(set); err != nil {
			return err
		}
	}
	if on(cmd, "json") {
		return a.showJSON(newSettingsJSON(set))
	}
	return a.show(joinLines(a.settingsText(set)))
}

// changedSettings are the settings with what the flags say.
func (a *app) changedSettings(cmd *cobra.Command, s model.Settings) (set model.Settings, changed bool, err error) {
	is := cmd.Flags().Changed
	if is("name") {
		s.CellarName = strings.TrimSpace(text(cmd, "name"))
	}
	if is("units") {
		switch u := word[string](text(cmd, "units")); u {
		case metricUnits, usUnits:
			s.US = u == usUnits
		default:
			return s, false, fmt.Errorf("units %q are not one of metric, us: %w", u, model.ErrInvalid)
		}
	}
	if is("hydrometer") {
		if s.Calibration, err = temperature(cmd, "hydrometer"); err != nil {
			return s, false, err
		}
		if s.Calibration == 0 { // stands for the usual one
			return s, false, fmt.Errorf("no hydrometer is made for 0 °C; most say 20 °C, 15.6 °C or 60 °F on the paper inside: %w", model.ErrInvalid)
		}
	}
	prices, err := cmd.Flags().GetStringArray("price")
	if err != nil {
		return s, false, err
	}
	for _, p := range prices {
		if s.Prices, err = a.priced(s.Prices, p); err != nil {
			return s, false, err
		}
	}
	return s, is("name") || is("units") || is("hydrometer") || is("price"), nil
}

// priced are the prices with one as typed, honey=12.50.
func (a *app) priced(all model.Prices, typed string) (model.Prices, error) {
	name, price, ok := strings.Cut(typed, "=")
	if !ok {
		return all, fmt.Errorf("price %q is not understood; write honey=12.50: %w", typed, model.ErrInvalid)
	}
	stuff, err := a.larder().Find(name)
	if err != nil {
		return all, err
	}
	perKilo, err := model.ParsePrice(price)
	if err != nil {
		return all, err
	}
	return all.With(stuff.ID(), perKilo), nil
}

func (a *app) settingsText(s model.Settings) []string {
	say := a.words(s)
	units := metricUnits
	if s.US {
		units = usUnits
	}
	out := []string{
		"name        " + say.Text(s.CellarName),
		"units       " + units,
		"hydrometer  " + hydrometerText(s, say),
	}
	for _, id := range slices.Sorted(maps.Keys(s.Prices)) {
		out = append(out, fmt.Sprintf("price       %s %.4g a kilogram", say.Text(id), s.Prices[id]))
	}
	return out
}

// hydrometerText is the temperature with a tenth where it has one, as 15.6 has.
func hydrometerText(s model.Settings, say words.Words) string {
	if t := float64(s.Hydrometer()); !s.US && t != math.Round(t) {
		return say.Text(fmt.Sprintf("%.1f °C", t))
	}
	return say.Temperature(s.Hydrometer())
}

type settingsJSON struct {
	Name       string            `json:"name"`
	Units      string            `json:"units"`
	Hydrometer number            `json:"hydrometer_c"`
	Prices     map[string]number `json:"prices_kg"`
}

func newSettingsJSON(s model.Settings) settingsJSON {
	out := settingsJSON{Name: s.CellarName, Units: metricUnits, Hydrometer: number(s.Hydrometer()), Prices: map[string]number{}}
	if s.US {
		out.Units = usUnits
	}
	for id, p := range s.Prices {
		out.Prices[id] = number(p)
	}
	return out
}
