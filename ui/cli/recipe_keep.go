package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) recipeKeepCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "keep NAME", Short: "keep a recipe, or replace the one of that name",
		Long: `Keep a recipe. --volume is topped up to with water; --water is poured on. With --to
there is as much of the first --add as brings the must to a gravity or a strength, and
no amount of it is needed. Fruit is weighed as bought; it is crushed, or with --whole
left as it is. --feed holds back a share of the first --add and says when it goes in.`,
		Example: `  glassrow recipe keep "creek melomel" --volume 19L --add "honey 5kg" --add "blackcurrant 2kg" --yeast high
  glassrow recipe keep "strong mead" --volume 5gal --add honey --to 1.130 --feed "40% in 3 at 1.010"`,
		Args: takes(1, -1, "a name"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.keepRecipe(cmd, strings.Join(args, " ")) },
	}
	f := cmd.Flags()
	f.String("volume", "", "`VOLUME` to top up to, as 19L or 5gal")
	f.String("water", "", "`VOLUME` of water to pour on")
	f.StringArray("add", nil, "what goes in, as `\"honey 5kg\"`; may be repeated")
	f.String("to", "", "`TARGET` for the first --add: 1.095 or 12%")
	f.String("kind", "", "`KIND` of drink; otherwise what is usually made of the first --add")
	f.String("feed", "", "`SHARE` of the first --add to hold back, doses and last mark, as \"40% in 3 at 1.010\"")
	f.Bool("whole", false, "leave the fruit whole")
	yeastFlag(cmd)
	completeWords(cmd, "kind", model.Drinks())
	jsonFlag(cmd)
	return cmd
}

func (a *app) keepRecipe(cmd *cobra.Command, name string) error {
	if err := need(cmd, "add"); err != nil {
		return err
	}
	r, err := a.typedRecipe(cmd, name)
	if err != nil {
		return err
	}
	if err := r.Validate(); err != nil {
		return err
	}
	if _, err := r.Figures(); err != nil {
		return err
	}
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	if err := store.KeepRecipe(r); err != nil {
		return err
	}
	return a.showRecipe(cmd, r, shelf.Settings)
}

// typedRecipe is the recipe that the flags describe, worked out.
func (a *app) typedRecipe(cmd *cobra.Command, name string) (model.Recipe, error) {
	r := model.Recipe{Name: name}
	flag, err := oneOf(cmd, "volume", "water")
	if err != nil {
		return r, err
	}
	volume, err := model.ParseVolume(text(cmd, flag))
	if err != nil {
		return r, err
	}
	if r.Fill = volume; flag == "water" {
		water, err := calc.WaterOf(volume)
		if err != nil {
			return r, err
		}
		r.Fill, r.Water = 0, water.Mass()
	}
	added, err := cmd.Flags().GetStringArray("add")
	if err != nil {
		return r, err
	}
	for i, line := range added {
		item, err := a.recipeItem(line, i == 0 && cmd.Flags().Changed("to"))
		if err != nil {
			return r, err
		}
		item.Crushed = item.Stuff.IsFruit() && !on(cmd, "whole")
		r.Items = append(r.Items, item)
	}
	if r.Drink = model.DrinkOf(r.Items[0].Stuff); cmd.Flags().Changed("kind") {
		r.Drink = word[model.Drink](text(cmd, "kind"))
	}
	r.Yeast = word[model.YeastGroup](text(cmd, "yeast"))
	return a.wishedRecipe(cmd, r)
}

// wishedRecipe is the recipe with what is wished of its first ingredient.
func (a *app) wishedRecipe(cmd *cobra.Command, r model.Recipe) (model.Recipe, error) {
	if cmd.Flags().Changed("feed") {
		h, err := model.ParseHolding(text(cmd, "feed"))
		if err != nil {
			return r, err
		}
		if r, err = r.HoldingBack(0, h); err != nil {
			return r, err
		}
	}
	if !cmd.Flags().Changed("to") {
		return r.Work()
	}
	w, err := model.ParseWish(text(cmd, "to"))
	if err == nil && !w.Aim.Set() {
		err = fmt.Errorf("--to %q is no target; write 1.095 or 12%%: %w", text(cmd, "to"), model.ErrInvalid)
	}
	if err != nil {
		return r, err
	}
	return r.SolveFor(0, w.Aim)
}

// recipeItem understands "honey 5kg" or, where the amount is solved for, "honey".
func (a *app) recipeItem(line string, solved bool) (model.RecipeItem, error) {
	name, mass, err := model.ParsePortion(line)
	if err != nil && solved {
		name, mass, err = line, 0, nil
	}
	if err != nil {
		return model.RecipeItem{}, err
	}
	stuff, err := a.larder().Find(name)
	return model.RecipeItem{Stuff: stuff, Mass: mass}, err
}

func (a *app) recipeStartCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "start NAME --vessel LABEL", Short: "begin a batch by a recipe in an empty vessel",
		Long: `Begin a batch by a recipe: the must goes into an empty vessel, what is held back into
the journal as a plan for feeding, and the yeast of the recipe, or of --yeast, into the
must. The batch is called as the recipe, or as --name says.`,
		Example: `  glassrow recipe start "creek melomel" --vessel N1
  glassrow recipe start "creek melomel" --vessel N2 --to 10L --name "Second melomel"`,
		Args: takes(1, -1, "a name"), ValidArgsFunction: a.completeRecipe,
		RunE: func(cmd *cobra.Command, args []string) error { return a.startRecipe(cmd, args) },
	}
	cmd.Flags().String("vessel", "", "`LABEL` of the vessel")
	cmd.Flags().String("to", "", "`VOLUME` to scale it to first")
	cmd.Flags().String("name", "", "`NAME` of the batch")
	yeastFlag(cmd)
	atFlag(cmd)
	a.completeVesselFlag(cmd)
	return cmd
}

func (a *app) startRecipe(cmd *cobra.Command, args []string) error {
	if err := need(cmd, "vessel"); err != nil {
		return err
	}
	store, shelf, r, err := a.recipeNamed(args)
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
	if cmd.Flags().Changed("to") {
		if r, err = scaledTo(r, text(cmd, "to")); err != nil {
			return err
		}
	}
	if cmd.Flags().Changed("yeast") {
		r.Yeast, r.Tolerance = word[model.YeastGroup](text(cmd, "yeast")), 0
	}
	name := r.Name
	if cmd.Flags().Changed("name") {
		name = text(cmd, "name")
	}
	now := a.Now()
	at, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	b, err := r.Batch(name, v.ID, at, now)
	if err != nil {
		return err
	}
	if err := model.CheckStart(b, v); err != nil {
		return err
	}
	if b, err = store.StartBatch(b); err != nil {
		return err
	}
	say := a.words(shelf.Settings)
	for _, c := range r.Cautions() {
		a.caution(say, c)
	}
	return a.showStarted(b, v, say)
}
