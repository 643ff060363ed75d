package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) recipeCommand() *cobra.Command {
	cmd := parent("recipe", "recipes of your own for a must",
		"Keep recipes for a must, scale them to a volume, and start batches from them.")
	cmd.Example = "  glassrow recipe list"
	cmd.AddCommand(a.recipeListCommand(), a.recipeShowCommand(), a.recipeScaleCommand(), a.recipeKeepCommand(),
		a.recipeStartCommand(), a.recipeDropCommand())
	return cmd
}

func (a *app) recipeListCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "list", Short: "the recipes that are kept", Example: "  glassrow recipe list", Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, shelf, all, err := a.recipes()
			if err != nil {
				return err
			}
			if on(cmd, "json") {
				return a.showRecipes(all, shelf.Settings)
			}
			if len(all) == 0 {
				return a.show("No recipe is kept; glassrow recipe keep makes one.\n")
			}
			say := a.words(shelf.Settings)
			var lines []string
			for _, r := range all {
				lines = append(lines, say.Text(r.Name+": "+ui.RecipeText(r, say)))
			}
			return a.show(joinLines(lines))
		},
	}
	jsonFlag(cmd)
	return cmd
}

// showRecipes prints all recipes for a script. One that cannot be worked out has its name
// and why.
func (a *app) showRecipes(all []model.Recipe, set model.Settings) error {
	type listed struct {
		Name    string      `json:"name"`
		Recipe  *recipeJSON `json:"recipe"`
		Problem string      `json:"problem,omitempty"`
	}
	out := struct {
		Recipes []listed `json:"recipes"`
	}{[]listed{}}
	for _, r := range all {
		one := listed{Name: r.Name}
		worked, err := r.Work()
		var f model.RecipeFigures
		if err == nil {
			f, err = worked.Figures()
		}
		if err != nil {
			one.Problem = words.PlainError(err)
		} else {
			told := newRecipeJSON(worked, f, set)
			one.Recipe = &told
		}
		out.Recipes = append(out.Recipes, one)
	}
	return a.showJSON(out)
}

func (a *app) recipeShowCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "show NAME", Short: "a recipe, and what it comes to",
		Example: `  glassrow recipe show "creek melomel"`,
		Args:    takes(1, -1, "a name"), ValidArgsFunction: a.completeRecipe,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, shelf, r, err := a.recipeNamed(args)
			if err != nil {
				return err
			}
			return a.showRecipe(cmd, r, shelf.Settings)
		},
	}
	jsonFlag(cmd)
	return cmd
}

func (a *app) recipeScaleCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "scale NAME --to VOLUME", Short: "a recipe for another volume",
		Long: `Show a recipe for another volume in the vessel: every mass times the same, so that
gravity and strength stay. What is kept is not changed, unless --keep gives the scaled
one a name.`,
		Example: `  glassrow recipe scale "creek melomel" --to 23L`,
		Args:    takes(1, -1, "a name"), ValidArgsFunction: a.completeRecipe,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := need(cmd, "to"); err != nil {
				return err
			}
			store, shelf, r, err := a.recipeNamed(args)
			if err != nil {
				return err
			}
			if r, err = scaledTo(r, text(cmd, "to")); err != nil {
				return err
			}
			if cmd.Flags().Changed("keep") {
				r.Name = text(cmd, "keep")
				if err := store.KeepRecipe(r); err != nil {
					return err
				}
			}
			return a.showRecipe(cmd, r, shelf.Settings)
		},
	}
	cmd.Flags().String("to", "", "`VOLUME` in the vessel, as 23L or 5gal")
	cmd.Flags().String("keep", "", "`NAME` under which to keep it")
	jsonFlag(cmd)
	return cmd
}

func scaledTo(r model.Recipe, typed string) (model.Recipe, error) {
	v, err := model.ParseVolume(typed)
	if err != nil {
		return r, err
	}
	return r.Scaled(v)
}

func (a *app) recipeDropCommand() *cobra.Command {
	return &cobra.Command{
		Use: "drop NAME", Short: "discard a recipe without trace",
		Example: `  glassrow recipe drop "creek melomel"`,
		Args:    takes(1, -1, "a name"), ValidArgsFunction: a.completeRecipe,
		RunE: func(_ *cobra.Command, args []string) error {
			store, shelf, r, err := a.recipeNamed(args)
			if err != nil {
				return err
			}
			if err := store.DropRecipe(r.Name); err != nil {
				return err
			}
			return a.show(a.words(shelf.Settings).Text(r.Name) + " is discarded.\n")
		},
	}
}

// recipes opens the cellar and reads its recipes, with what the handbook tells of their
// ingredients.
func (a *app) recipes() (ui.Store, model.Shelf, []model.Recipe, error) {
	store, shelf, err := a.open()
	if err != nil {
		return nil, shelf, nil, err
	}
	all, err := store.Recipes()
	for i := range all {
		all[i] = all[i].Known(a.larder())
	}
	return store, shelf, all, err
}

// recipeNamed is the recipe that a person means by the words, worked out.
func (a *app) recipeNamed(args []string) (ui.Store, model.Shelf, model.Recipe, error) {
	store, shelf, all, err := a.recipes()
	if err != nil {
		return nil, shelf, model.Recipe{}, err
	}
	name := strings.Join(args, " ")
	names := func(r model.Recipe) []string { return []string{r.Name} }
	found, ok, matches := model.FindNamed(all, names, name)
	switch {
	case ok:
		found, err = found.Work()
		return store, shelf, found, err
	case len(matches) > 0:
		err = fmt.Errorf("recipe %q could be %s", name, strings.Join(ids(matches, names), " or "))
	case len(all) == 0:
		err = fmt.Errorf("no recipe %q, for none is kept yet; glassrow recipe keep makes one", name)
	default:
		err = fmt.Errorf("no recipe %q; there are %s", name, strings.Join(ids(all, names), ", "))
	}
	return nil, shelf, found, err
}

// completeRecipe offers the names of the recipes.
func (a *app) completeRecipe(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	_, shelf, all, err := a.recipes()
	if err != nil || len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, r := range all {
		if hasPrefixFold(r.Name, begun) {
			out = append(out, a.words(shelf.Settings).Text(r.Name))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func (a *app) showRecipe(cmd *cobra.Command, r model.Recipe, set model.Settings) error {
	f, err := r.Figures()
	if err != nil {
		return err
	}
	if on(cmd, "json") {
		return a.showJSON(newRecipeJSON(r, f, set))
	}
	say := a.words(set)
	lines := recipeLines(r, f, say)
	if cost, unknown := r.Cost(set.Prices); cost > 0 {
		lines = append(lines, fmt.Sprintf("cost %.2f", cost)+without(unknown, say))
	}
	return a.show(joinLines(append(lines, a.recipeNotes(r, f, say)...)))
}

// without names what has no price yet.
func without(unknown []string, say words.Words) string {
	if len(unknown) == 0 {
		return ""
	}
	return say.Text(", without " + strings.Join(unknown, ", "))
}

// recipeLines are what goes in and what it comes to.
func recipeLines(r model.Recipe, f model.RecipeFigures, say words.Words) []string {
	lines := []string{say.Text(fmt.Sprintf("%s, %s", r.Name, r.Drink))}
	row := func(mass calc.Gram, name string) {
		lines = append(lines, fmt.Sprintf("  %10s  %s", say.Mass(mass), say.Text(name)))
	}
	for _, i := range r.Items {
		if i.Stuff.IsAcid() { // a small scale shows more of it
			lines = append(lines, fmt.Sprintf("  %10s  %s", say.FineMass(i.Mass), say.Text(itemText(i))))
			continue
		}
		row(i.Mass, itemText(i))
	}
	if r.Water > 0 {
		name := "water"
		if r.Fill > 0 {
			name += ", or up to " + say.Volume(r.Fill)
		}
		row(r.Water, name)
	}
	if n := r.Nutrient; n.Set() {
		amount := ""
		if n.Missing {
			amount = ", as much as is missing"
		}
		row(n.Mass, fmt.Sprintf("%s%s, to feed the yeast in %s", n.Name, amount, n.Split))
	}
	lines = append(lines, mustLines(f.Whole, f.All, say)...)
	for i, d := range f.Feeds {
		lines = append(lines, fmt.Sprintf("feed %d: %s at %s", i+1, say.Text(say.Doses(d.Parts)), say.Gravity(d.Mark)))
	}
	if len(f.Meals) > 0 {
		lines = append(lines, fmt.Sprintf("nutrient: %s at each of %s", say.FineMass(f.Meals[0].Mass), say.Meals(f.Meals)))
	}
	return lines
}

// itemText says an ingredient and what is done to it: damson, whole, prepared.
func itemText(i model.RecipeItem) string {
	name := i.Stuff.Name()
	if i.Stuff.IsFruit() && i.Stuff.Fruit.Fruit.HalfTime > 0 {
		name += map[bool]string{true: ", crushed", false: ", whole"}[i.Crushed]
	}
	if i.Prepared {
		name += ", prepared"
	}
	if i.Held > 0 {
		name += fmt.Sprintf(", %.4g %% of it held back", 100*i.Held)
	}
	if i.Stuff.IsAcid() && i.Aim.Set() {
		name += ", to " + i.Aim.Text()
	}
	return name
}

// recipeNotes are what the yeasts leave, and what to think of.
func (a *app) recipeNotes(r model.Recipe, f model.RecipeFigures, say words.Words) []string {
	var out []string
	for _, y := range f.Left {
		chosen := ""
		if y.Yeast == r.Yeast {
			chosen = ", the yeast it is for"
		}
		out = append(out, fmt.Sprintf("%s yeast, which stands %.4g %% vol, leaves %s and %s of sugar%s", y.Yeast, float64(y.Tolerance),
			say.FineGravity(y.Figures.SG), say.PerLitre(y.Figures.Sugar), chosen))
	}
	if s := f.Soured; s != nil {
		out = append(out, fmt.Sprintf("pH %.1f to %.1f, about %.1f; acidity %.1f to %.1f g/L as tartaric, about %.1f: guesses", s.PH.Low, s.PH.High, float64(s.AboutPH),
			s.Acidity.Low, s.Acidity.High, float64(s.AboutAcidity)))
		out = append(out, cells.Wrap(strings.Join(r.AcidAdvice(f), " "), defaultWidth)...)
	} else if f.PH.Known() {
		out = append(out, fmt.Sprintf("pH %.1f to %.1f, guessed by the fruit: measure it", f.PH.Low, f.PH.High))
	}
	if want, ok := f.NitrogenWanted(calc.MediumNeed); ok {
		out = append(out, fmt.Sprintf("%.0f mg/L of nitrogen wanted at medium need, %.0f to %.0f likely there", float64(want), f.Nitrogen.Low, f.Nitrogen.High)+
			unknownText(f.Nitrogen.Unknown, say))
	}
	if r.Nutrient.Set() {
		out = append(out, fmt.Sprintf("%.0f mg/L of nitrogen fed", float64(r.NutrientBrings(f))))
	}
	if r.TooMuchNutrient(f) {
		out = append(out, cells.Wrap(say.Text(say.TooMuchNutrient(r, f)), defaultWidth)...)
	}
	if err := f.FeedsErr(); err != nil {
		out = append(out, cells.Wrap(say.Text(words.PlainError(err)), defaultWidth)...)
	}
	for _, c := range r.Cautions() {
		out = append(out, cells.Wrap(say.Text(c), defaultWidth)...)
	}
	return out
}

func unknownText(names []string, say words.Words) string {
	if len(names) == 0 {
		return ""
	}
	return say.Text(", not known of " + strings.Join(names, ", "))
}
