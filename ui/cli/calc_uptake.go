package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcUptakeCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "uptake",
		Short: "which sugar the yeast takes when, day by day",
		Long: `Simulate a ferment from the pitch: gravity, strength and what is left of each sugar,
a line a day. The yeast is a typical one that stands what its group stands; nitrogen
is what it can use of the must, 140 mg/L unless you say. What is given with --add is
made up to the volume with water.`,
		Example: `  glassrow calc uptake --volume 19L --add "honey 5kg" --yeast wine --temp 20C
  glassrow calc uptake --volume 10L --add "white sugar 2kg" --nitrogen 60 --days 60 --json`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcUptake(cmd) },
	}
	f := cmd.Flags()
	f.String("volume", "", "`VOLUME` of the must, as 19L or 5gal")
	f.StringArray("add", nil, "something that goes in, as `\"honey 5kg\"`; may be repeated")
	_ = cmd.RegisterFlagCompletionFunc("add", a.completeStuff)
	f.String("nitrogen", "140", "usable nitrogen in `MG` per litre")
	f.String("days", "30", "how many `DAYS` to run, up to 365")
	uptakeFlags(cmd)
	return cmd
}

// uptakeFlags are the yeast and its warmth.
func uptakeFlags(cmd *cobra.Command) {
	cmd.Flags().String("yeast", string(model.WineYeast), "`GROUP` of the yeast: wine, high, ale, lager or wild")
	cmd.Flags().String("temp", "20C", "`TEMPERATURE` of the liquid, as 20C or 68F")
	completeWords(cmd, "yeast", chosenYeasts())
}

// yeastAndWarmth returns what uptakeFlags were set to.
func yeastAndWarmth(cmd *cobra.Command) (model.YeastGroup, calc.Celsius, error) {
	group := word[model.YeastGroup](text(cmd, "yeast"))
	if err := (model.Pitch{Yeast: group}).Validate(); err != nil {
		return group, 0, under("yeast", err)
	}
	t, err := model.ParseTemperature(text(cmd, "temp"))
	return group, t, under("temp", err)
}

type uptakeRowJSON struct {
	Day         number `json:"day"`
	SG          number `json:"sg"`
	ABV         number `json:"abv_pct"`
	Sucrose     number `json:"sucrose_g_l"`
	Glucose     number `json:"glucose_g_l"`
	Fructose    number `json:"fructose_g_l"`
	Maltose     number `json:"maltose_g_l"`
	Maltotriose number `json:"maltotriose_g_l"`
}

func (a *app) calcUptake(cmd *cobra.Command) error {
	if err := need(cmd, "volume", "add"); err != nil {
		return err
	}
	must, err := a.mustOfFlags(cmd)
	if err != nil {
		return err
	}
	group, t, err := yeastAndWarmth(cmd)
	if err != nil {
		return err
	}
	nitrogen, err := parseNumber(text(cmd, "nitrogen"), "nitrogen", "mg/l")
	if err != nil {
		return under("nitrogen", err)
	}
	until, err := parseNumber(text(cmd, "days"), "days", "d")
	if err == nil && !(until >= 1 && until <= 365) {
		err = fmt.Errorf("%.4g is outside 1 to 365: %w", until, model.ErrInvalid)
	}
	if err != nil {
		return under("days", err)
	}
	p := calc.TypicalUptake(t, calc.YAN(nitrogen), group.Tolerance())
	if malty := must.Of(calc.Maltose) + must.Of(calc.Maltotriose); malty > must.Fermentable()/2 {
		p.Yield = calc.WortYield()
	}
	rows, err := p.Simulate(must, calc.EveryHours(24, calc.Hour(24*until))...)
	if err != nil {
		return err
	}
	out := make([]uptakeRowJSON, len(rows))
	for i, r := range rows {
		out[i] = newUptakeRow(r)
	}
	return a.answer(cmd, struct {
		Rows []uptakeRowJSON `json:"rows"`
	}{out}, lines(uptakeColumns(out), a.width())...)
}

// mustOfFlags is the must that --volume and --add describe.
func (a *app) mustOfFlags(cmd *cobra.Command) (calc.Liquid, error) {
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return calc.Liquid{}, err
	}
	m := model.Must{Volume: volume}
	added, err := cmd.Flags().GetStringArray("add")
	if err != nil {
		return calc.Liquid{}, err
	}
	for _, line := range added {
		p, err := a.portion(line)
		if err != nil {
			return calc.Liquid{}, err
		}
		m.Ingredients = append(m.Ingredients, p)
	}
	if err := m.Validate(); err != nil {
		return calc.Liquid{}, err
	}
	return m.Liquid(model.Other)
}

func newUptakeRow(r calc.UptakeRow) uptakeRowJSON {
	perLitre := func(c calc.Component) number { return number(float64(r.Liquid.Of(c)) / float64(r.Figures.Volume)) }
	return uptakeRowJSON{
		Day: number(r.Time / 24), SG: number(r.Figures.SG), ABV: number(r.Figures.Strength),
		Sucrose: perLitre(calc.Sucrose), Glucose: perLitre(calc.Glucose), Fructose: perLitre(calc.Fructose),
		Maltose: perLitre(calc.Maltose), Maltotriose: perLitre(calc.Maltotriose),
	}
}

// uptakeColumns is the simulation as a table, in grams per litre.
func uptakeColumns(rows []uptakeRowJSON) []column {
	of := func(title, format string, get func(uptakeRowJSON) number) column {
		c := column{title: title, right: true}
		for _, r := range rows {
			c.cells = append(c.cells, fmt.Sprintf(format, float64(get(r))))
		}
		return c
	}
	return []column{
		of("day", "%.0f", func(r uptakeRowJSON) number { return r.Day }),
		of("SG", "%.4f", func(r uptakeRowJSON) number { return r.SG }),
		of("% vol", "%.1f", func(r uptakeRowJSON) number { return r.ABV }),
		of("sucrose", "%.1f", func(r uptakeRowJSON) number { return r.Sucrose }),
		of("glucose", "%.1f", func(r uptakeRowJSON) number { return r.Glucose }),
		of("fructose", "%.1f", func(r uptakeRowJSON) number { return r.Fructose }),
		of("maltose", "%.1f", func(r uptakeRowJSON) number { return r.Maltose }),
		of("maltotriose", "%.1f", func(r uptakeRowJSON) number { return r.Maltotriose }),
	}
}
