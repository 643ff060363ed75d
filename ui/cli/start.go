package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) startCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "start NAME",
		Short: "begin a batch in an empty vessel",
		Long: `Begin a batch: the must goes into an empty vessel and, with --yeast, the yeast
into the must; glassrow pitch puts it in later. Give the gravity that you read, or
what went in, or both: the gravity then says how much, the ingredients of what.
Fruit is weighed as bought and goes in whole unless you say crushed; the volume is
that in the vessel, fruit and all, and the gravity that of what is free then.`,
		Example: `  glassrow start Heather mead --vessel N1 --kind mead --volume 19L --gravity 1.104 --yeast wine
  glassrow start "Quince wine" --vessel S2 --kind wine --volume 4.5L --gravity 22Bx@17C --at yesterday
  glassrow start Braggot --vessel N2 --kind mead --volume 10L --add "honey 2kg" --add "treacle 500g"
  glassrow start "Damson wine" --vessel S2 --kind wine --volume 12L --add "crushed damson 4kg" --add "sugar 2kg"`,
		Args: takes(1, -1, "a name"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.start(cmd, strings.Join(args, " ")) },
	}
	f := cmd.Flags()
	f.String("vessel", "", "`LABEL` of the vessel")
	f.String("kind", "", "`KIND` of drink: mead, wine, cider, perry, beer or other")
	f.String("volume", "", "`VOLUME` of the must, as 19L or 5gal")
	f.String("gravity", "", "`GRAVITY` of the must, as 1.104 or 24Bx, @25C if it was warm")
	f.StringArray("add", nil, "something that went in, as `\"honey 5.5kg\"` or \"crushed damson 4kg\"; may be repeated")
	_ = cmd.RegisterFlagCompletionFunc("add", a.completeStuff)
	yeastFlag(cmd)
	atFlag(cmd)
	jsonFlag(cmd)
	a.completeVesselFlag(cmd)
	completeWords(cmd, "kind", model.Drinks())
	return cmd
}

func (a *app) start(cmd *cobra.Command, name string) error {
	if err := need(cmd, "vessel", "kind", "volume"); err != nil {
		return err
	}
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	v, err := vesselNamed(shelf, text(cmd, "vessel"))
	if err != nil {
		return err
	}
	if in, full := shelf.BatchIn(v.ID); full {
		return fmt.Errorf("%s holds %s; take another vessel, or rack or bottle that first", v.Label, in.Name)
	}
	b, err := a.newBatch(cmd, name, v, shelf.Settings)
	if err != nil {
		return err
	}
	if err := model.CheckStart(b, v); err != nil {
		return err
	}
	if b, err = store.StartBatch(b); err != nil {
		return err
	}
	return a.showStarted(cmd, spot{store: store, settings: shelf.Settings, shelf: shelf, vessel: v, batch: b})
}

// newBatch is the batch that the flags describe.
func (a *app) newBatch(cmd *cobra.Command, name string, v model.Vessel, s model.Settings) (model.Batch, error) {
	now := a.Now()
	at, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return model.Batch{}, err
	}
	must, err := a.must(cmd, v.ID, s)
	if err != nil {
		return model.Batch{}, err
	}
	b := model.Batch{Name: name, Drink: word[model.Drink](text(cmd, "kind"))}
	entry := func(body model.Body) {
		id := model.EntryID(len(b.Entries) + 1)
		b.Entries = append(b.Entries, model.Entry{ID: id, At: at, Recorded: now, Body: body})
	}
	entry(must)
	if cmd.Flags().Changed("yeast") {
		entry(model.Pitch{Yeast: word[model.YeastGroup](text(cmd, "yeast"))})
	}
	return b, nil
}

func (a *app) must(cmd *cobra.Command, v model.VesselID, s model.Settings) (model.Must, error) {
	volume, err := model.ParseVolume(text(cmd, "volume"))
	if err != nil {
		return model.Must{}, err
	}
	m := model.Must{Vessel: v, Volume: volume}
	if cmd.Flags().Changed("gravity") {
		if m.Gravity, err = gravityOfMust(text(cmd, "gravity"), s); err != nil {
			return m, err
		}
	}
	added, err := cmd.Flags().GetStringArray("add")
	if err != nil {
		return m, err
	}
	for _, line := range added {
		fruit, p, caution, err := a.larder().ParseFruit(line)
		if err != nil {
			return m, err
		}
		if caution != "" {
			a.caution(a.words(s), caution)
		}
		if fruit.Mass > 0 {
			m.Fruit = append(m.Fruit, fruit)
			continue
		}
		m.Ingredients = append(m.Ingredients, p)
	}
	return m, nil
}

// gravityOfMust understands a reading of the must and corrects it to 20/20.
func gravityOfMust(typed string, s model.Settings) (calc.SG, error) {
	r, err := model.ParseReading(typed, s.Hydrometer())
	if err != nil {
		return 0, err
	}
	if !r.HasGravity() || r.PH != 0 || r.Note != "" {
		return 0, fmt.Errorf("gravity %q is not understood; write 1.104, 24Bx or 1.104@25C", typed)
	}
	return r.Corrected(0)
}

// portion understands "honey 5.5kg", the name being one of the handbook.
func (a *app) portion(line string) (model.Portion, error) {
	name, mass, err := model.ParsePortion(line)
	if err != nil {
		return model.Portion{}, err
	}
	sw, err := model.NamedSweetener(a.Sweeteners, name)
	return model.Portion{Ingredient: sw.Ingredient, Mass: mass}, err
}

// startedJSON is a batch that has just begun.
type startedJSON struct {
	lifeJSON
	Potential number  `json:"potential_abv_pct"`
	LateSugar *number `json:"late_sugar_g,omitempty"` // still in the fruit
	Tolerance *number `json:"tolerance_pct"`          // null: no yeast yet
}

func (a *app) showStarted(cmd *cobra.Command, at spot) error {
	b, v, say := at.batch, at.vessel, a.words(at.settings)
	// ParseWhen lets a time be a minute ahead.
	s, err := model.Replay(b, a.Now().Add(time.Minute))
	if err != nil {
		return err
	}
	potential, err := calc.PotentialABV(s.Figures.Sugar)
	if err != nil {
		return err
	}
	if on(cmd, "json") {
		out := startedJSON{lifeJSON: a.newLifeJSON(at, s), Potential: number(potential), LateSugar: known(s.LateSugar)}
		if !s.Pitched.IsZero() {
			out.Tolerance = known(s.Tolerance)
		}
		return a.showJSON(out)
	}
	yeast := "no yeast yet"
	if !s.Pitched.IsZero() {
		yeast = fmt.Sprintf("yeast that stands about %.0f %% vol", float64(s.Tolerance))
	}
	if late := say.LateSugar(s.LateSugar, s.FruitRoom); late != "" {
		yeast += "; " + late
	}
	return a.show(fmt.Sprintf("%s in %s: %s at %s, %.0f g/L of sugar, potential %.1f %% vol; %s.\n",
		say.Text(b.Name), say.Text(v.Label), say.Volume(s.Figures.Volume), say.FineGravity(s.Original),
		float64(s.Figures.Sugar), float64(potential), yeast))
}
