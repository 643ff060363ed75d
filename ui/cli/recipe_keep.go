package cli

import (
	"fmt"
	"slices"
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
no amount of it is needed. Fruit is weighed as bought and crushed, or with --whole left
as it is; the words whole, crushed or prepared, which is without stones and peel, before
a name say so of that fruit. --feed holds back a share of the first --add and says when it goes in.

An acid or a carbonate is an --add too. With --ph or --acidity there is as much of the
first of them as brings the guess of the must there, and no amount of it is needed. A pH
by tables is a guess: measure it after mixing. --nutrient feeds the yeast, by a plan:
as much as is missing, or so much, in halves, thirds or quarters.`,
		Example: `  glassrow recipe keep "creek melomel" --volume 19L --add "honey 5kg" --add "blackcurrant 2kg" --yeast high
  glassrow recipe keep "strong mead" --volume 5gal --add honey --to 1.130 --feed "40% in 3 at 1.010"
  glassrow recipe keep "damson wine" --volume 5L --add "damson 2kg" --add "sugar 900g" --add "tartaric acid" --ph 3.3-3.5 --nutrient "DAP in thirds"`,
		Args: takes(1, -1, "a name"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.keepRecipe(cmd, strings.Join(args, " ")) },
	}
	f := cmd.Flags()
	f.String("volume", "", "`VOLUME` to top up to, as 19L or 5gal")
	f.String("water", "", "`VOLUME` of water to pour on")
	f.StringArray("add", nil, "what goes in, as `\"honey 5kg\"`; may be repeated")
	_ = cmd.RegisterFlagCompletionFunc("add", a.completeStuff)
	f.String("to", "", "`TARGET` for the first --add: 1.095 or 12%")
	f.String("kind", "", "`KIND` of drink; otherwise what is usually made of the first --add")
	f.String("feed", "", "`SHARE` of the first --add to hold back, doses and last mark, as \"40% in 3 at 1.010\"")
	f.String("ph", "", "`PH` or range for the first acid or carbonate: 3.4 or 3.3-3.5")
	f.String("acidity", "", "`ACIDITY` for it instead, as tartaric acid: 6.5g/L")
	f.String("nutrient", "", "`WHAT` feeds the yeast, as DAP, or \"DAP 12g in thirds\"")
	_ = cmd.RegisterFlagCompletionFunc("nutrient", a.completeNutrient)
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
		line, crushed, prepared := treatment(line, !on(cmd, "whole"))
		item, err := a.recipeItem(line, i == 0 && cmd.Flags().Changed("to"), cmd.Flags().Changed("ph") || cmd.Flags().Changed("acidity"))
		if err != nil {
			return r, err
		}
		if item.Crushed = item.Stuff.IsFruit() && crushed; prepared {
			if !item.Stuff.IsFruit() || item.Stuff.Fruit.Fruit.Refuse <= 0 {
				return r, fmt.Errorf("nothing of %s is thrown away, so it cannot be prepared: %w", item.Stuff.Name(), model.ErrInvalid)
			}
			item.Prepared = true
		}
		r.Items = append(r.Items, item)
	}
	if r.Drink = model.DrinkOf(r.Items[0].Stuff); cmd.Flags().Changed("kind") {
		r.Drink = word[model.Drink](text(cmd, "kind"))
	}
	r.Yeast = word[model.YeastGroup](text(cmd, "yeast"))
	if cmd.Flags().Changed("nutrient") {
		if r.Nutrient, err = a.larder().Nutrient(text(cmd, "nutrient")); err != nil {
			return r, err
		}
	}
	if r, err = a.wishedRecipe(cmd, r); err != nil {
		return r, err
	}
	return souredRecipe(cmd, r)
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

// souredRecipe is the recipe with what is wished of its first acid or carbonate.
func souredRecipe(cmd *cobra.Command, r model.Recipe) (model.Recipe, error) {
	ph, acidity := cmd.Flags().Changed("ph"), cmd.Flags().Changed("acidity")
	if !ph && !acidity {
		return r, nil
	}
	if ph && acidity {
		return r, fmt.Errorf("--ph and --acidity are two targets for one acid; give one of them: %w", model.ErrInvalid)
	}
	typed := "ph" + text(cmd, "ph")
	if acidity {
		typed = "ta" + text(cmd, "acidity")
	}
	w, err := model.ParseWish(typed)
	if err != nil {
		return r, err
	}
	i := slices.IndexFunc(r.Items, func(i model.RecipeItem) bool { return i.Stuff.IsAcid() })
	if i < 0 {
		return r, fmt.Errorf("no --add is an acid or a carbonate; add one, as --add \"tartaric acid\": %w", model.ErrInvalid)
	}
	return r.SolveFor(i, w.Aim)
}

// treatment cuts what is done to a fruit off the front of a line: whole, crushed, or
// prepared, which is weighed without its stones and peel.
func treatment(line string, crushed bool) (rest string, crush, prepared bool) {
	for {
		first, more, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch strings.ToLower(first) {
		case "whole":
			crushed = false
		case "crushed":
			crushed = true
		case "prepared":
			prepared = true
		default:
			return line, crushed, prepared
		}
		line = more
	}
}

// recipeItem understands "honey 5kg" or, where the amount is solved for, "honey"; of an
// acid, where that is.
func (a *app) recipeItem(line string, solved, acidSolved bool) (model.RecipeItem, error) {
	name, mass, err := model.ParsePortion(line)
	unweighed := err
	if unweighed != nil && (solved || acidSolved) {
		name, mass = line, 0
	} else if err != nil {
		return model.RecipeItem{}, err
	}
	stuff, err := a.larder().FindForRecipe(name)
	if unweighed != nil && err == nil && !solved && !stuff.IsAcid() {
		return model.RecipeItem{}, unweighed
	}
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
	jsonFlag(cmd)
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
	return a.showStarted(cmd, spot{store: store, settings: shelf.Settings, shelf: shelf, vessel: v, batch: b})
}
