package cli

import (
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/words"
)

func (a *app) vesselCommand() *cobra.Command {
	cmd := parent("vessel", "add vessels, correct and list them", "Add vessels to the cellar, correct what is known of them, and list them.")
	cmd.AddCommand(a.vesselAddCommand(), a.vesselSetCommand(), a.vesselListCommand())
	return cmd
}

func (a *app) vesselAddCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "add LABEL",
		Short: "put a vessel on the shelf",
		Long: `Put an empty vessel on the shelf. LABEL is what you write on it: N1, K1.
The cellar is made if there is none yet.`,
		Example: `  glassrow vessel add N1 --kind carboy --capacity 23L --place "north shelf"
  glassrow vessel add K1 --kind keg --capacity 5gal --tare 4.3kg`,
		Args: takes(1, 1, "a label"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.addVessel(cmd, args[0]) },
	}
	cmd.Flags().String("kind", string(model.Carboy), "`KIND`: carboy, demijohn, bucket, barrel, keg, tank or bottles")
	cmd.Flags().String("capacity", "", "how much it holds to the brim, as 23L or 5gal")
	cmd.Flags().String("place", "", "where it stands, in your words")
	cmd.Flags().String("tare", "", tareHelp)
	completeWords(cmd, "kind", model.VesselKinds())
	jsonFlag(cmd)
	return cmd
}

func (a *app) addVessel(cmd *cobra.Command, label string) error {
	if err := need(cmd, "capacity"); err != nil {
		return err
	}
	capacity, err := model.ParseVolume(text(cmd, "capacity"))
	if err != nil {
		return err
	}
	tare, err := tareFlag(cmd)
	if err != nil {
		return err
	}
	v := model.Vessel{Label: label, Kind: word[model.VesselKind](text(cmd, "kind")), Capacity: capacity,
		Place: text(cmd, "place"), Tare: tare, Added: a.Now()}
	if err := v.Validate(); err != nil {
		return err // before a cellar is made for it
	}
	store, made, err := a.openOrCreate()
	if err != nil {
		return err
	}
	if v, err = store.AddVessel(v); err != nil {
		return err
	}
	shelf, err := store.Shelf()
	if err != nil {
		return err
	}
	if on(cmd, "json") {
		return a.showJSON(newRackJSON(vesselRow(shelf, v)))
	}
	say := a.words(shelf.Settings)
	out := fmt.Sprintf("%s: %s of %s, empty.\n", say.Text(v.Label), v.Kind, say.Volume(v.Capacity))
	if made {
		out = fmt.Sprintf("Made a new cellar at %s\n", say.Text(store.Path())) + out
	}
	return a.show(out)
}

// vesselRow is a vessel with the batch in it.
func vesselRow(shelf model.Shelf, v model.Vessel) model.Row {
	b, _ := shelf.BatchIn(v.ID)
	return model.Row{Vessel: v, Batch: b}
}

// tareHelp says what a tare is.
const tareHelp = "its mass when empty, as 6.4kg or 14lb: what it weighs tells then how much is in it"

// tareFlag returns the tare that was typed; 0: none was.
func tareFlag(cmd *cobra.Command) (calc.Gram, error) {
	if text(cmd, "tare") == "" {
		return 0, nil
	}
	m, err := model.ParseMass(text(cmd, "tare"))
	if err != nil {
		return 0, under("tare", err)
	}
	return m, nil
}

func (a *app) vesselSetCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "set LABEL",
		Short: "correct what is known of a vessel",
		Long:  "Correct what is known of a vessel, whether it is empty or not. What no flag names stays.",
		Example: `  glassrow vessel set N1 --tare 6.4kg
  glassrow vessel set N1 --capacity 23L --place "north shelf"
  glassrow vessel set N1 --label N9 --kind demijohn`,
		Args:              takes(1, 1, "a label"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.setVessel(cmd, args[0]) },
		ValidArgsFunction: a.completeVessel,
	}
	cmd.Flags().String("label", "", "what is written on it now")
	cmd.Flags().String("kind", "", "`KIND`: carboy, demijohn, bucket, barrel, keg, tank or bottles")
	completeWords(cmd, "kind", model.VesselKinds())
	jsonFlag(cmd)
	cmd.Flags().String("tare", "", tareHelp)
	cmd.Flags().String("capacity", "", "how much it holds to the brim, as 23L or 5gal")
	cmd.Flags().String("place", "", "where it stands, in your words")
	return cmd
}

func (a *app) setVessel(cmd *cobra.Command, label string) error {
	set := cmd.Flags().Changed
	if !slices.ContainsFunc([]string{"tare", "capacity", "place", "kind", "label"}, set) {
		return errors.New("nothing to correct; give --tare, --capacity, --place, --kind or --label")
	}
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	v, err := vesselNamed(shelf, label)
	if err != nil {
		return err
	}
	if set("tare") {
		if v.Tare, err = tareFlag(cmd); err != nil {
			return err
		}
	}
	if set("capacity") {
		if v.Capacity, err = model.ParseVolume(text(cmd, "capacity")); err != nil {
			return under("capacity", err)
		}
	}
	if set("place") {
		v.Place = text(cmd, "place")
	}
	if set("kind") {
		v.Kind = word[model.VesselKind](text(cmd, "kind"))
	}
	if set("label") {
		v.Label = text(cmd, "label")
	}
	if err := v.Validate(); err != nil {
		return err
	}
	if in, full := shelf.BatchIn(v.ID); full && in.Volume+in.FruitRoom > v.Capacity {
		say := a.words(shelf.Settings)
		a.caution(say, fmt.Sprintf("%s is in it, which is more than it would hold", say.FineVolume(in.Volume+in.FruitRoom)))
	}
	if err := store.ChangeVessel(v); err != nil {
		return err
	}
	if on(cmd, "json") {
		return a.showJSON(newRackJSON(vesselRow(shelf, v)))
	}
	say := a.words(shelf.Settings)
	return a.show(say.Text(v.Label) + ": " + say.Vessel(v) + ".\n")
}

// openOrCreate opens the cellar, or makes an empty one where there is none.
func (a *app) openOrCreate() (store ui.Store, made bool, err error) {
	path, err := a.path()
	if err != nil {
		return nil, false, err
	}
	store, err = a.Open(path)
	if !errors.Is(err, ErrNoCellar) {
		return store, false, err
	}
	store, err = a.Create(path, model.Settings{})
	return store, err == nil, err
}

func (a *app) vesselListCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "list",
		Short:   "list the vessels by label",
		Example: "  glassrow vessel list\n  glassrow vessel list --json",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.listVessels(on(cmd, "json")) },
	}
	jsonFlag(cmd)
	return cmd
}

func (a *app) listVessels(asJSON bool) error {
	_, shelf, err := a.open()
	if err != nil {
		return err
	}
	rows := shelf.Rows(a.Now())
	slices.SortFunc(rows, func(x, y model.Row) int { return model.CompareLabels(x.Vessel.Label, y.Vessel.Label) })
	if asJSON {
		list := struct {
			Vessels []rackJSON `json:"vessels"`
		}{[]rackJSON{}}
		for _, r := range rows {
			list.Vessels = append(list.Vessels, newRackJSON(r))
		}
		return a.showJSON(list)
	}
	if len(rows) == 0 {
		return a.show("No vessels yet. Add one with glassrow vessel add LABEL --kind carboy --capacity 23L\n")
	}
	return a.show(joinLines(lines(vesselColumns(rows, a.words(shelf.Settings)), a.width())))
}

func vesselColumns(rows []model.Row, say words.Words) []column {
	label, kind := column{title: "vessel"}, column{title: "kind"}
	capacity := column{title: "holds", right: true}
	tare := column{title: "tare", right: true, spare: 2}
	place, batch := column{title: "place", least: 8, spare: 1}, column{title: "batch", least: 8}
	for _, r := range rows {
		label.cells = append(label.cells, say.Text(r.Vessel.Label))
		kind.cells = append(kind.cells, string(r.Vessel.Kind))
		capacity.cells = append(capacity.cells, say.Volume(r.Vessel.Capacity))
		tare.cells = append(tare.cells, say.Tare(r.Vessel.Tare))
		place.cells = append(place.cells, say.Text(r.Vessel.Place))
		batch.cells = append(batch.cells, say.Text(r.Batch.Name))
	}
	if slices.ContainsFunc(tare.cells, func(s string) bool { return s != "" }) {
		return []column{label, kind, capacity, tare, place, batch}
	}
	return []column{label, kind, capacity, place, batch}
}
