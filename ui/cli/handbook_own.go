package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) handbookAddCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "add NAME",
		Short: "a row of your own",
		Long: `Add a sweetener or a fruit of your own. --like begins with the figures of another row;
otherwise say --sweetener or --fruit. --set fills in one figure, and may be repeated.

A sweetener has ` + fieldNames(model.SweetenerTable) + `.
A fruit has ` + fieldNames(model.FruitTable) + `.
The parts of a sweetener add up to 100 %.`,
		Example: `  glassrow handbook add "heather honey" --like honey --set water=20% --set fructose=36% --set source="my refractometer"
  glassrow handbook add "bird cherry" --fruit --set water=80% --set glucose=6% --set fructose=6% --set pulp=4% --set source="a food table"`,
		Args: takes(1, -1, "a name"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.handbookAdd(cmd, strings.Join(args, " ")) },
	}
	cmd.Flags().Bool("sweetener", false, "it is a sweetener")
	cmd.Flags().Bool("fruit", false, "it is a fruit, a root or a grain")
	cmd.Flags().String("like", "", "begin with the figures of this `ROW`")
	setFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) handbookChangeCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "change NAME",
		Short: "other figures for a row",
		Long: `Change figures of your own row, or put figures of your own in the place of a row that
is printed in the handbook. --set fills in one figure, and may be repeated.`,
		Example:           "  glassrow handbook change honey --set water=18% --set glucose=30.5%",
		Args:              takes(1, -1, "a name"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.handbookChange(cmd, strings.Join(args, " ")) },
		ValidArgsFunction: a.completeLarder,
	}
	setFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) handbookRemoveCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "remove NAME",
		Short: "take your own row away",
		Long: `Take a row of your own out of the handbook. If it stood in the place of a printed one,
that one comes back. Batches keep what was stirred in.`,
		Example:           "  glassrow handbook remove heather honey",
		Args:              takes(1, -1, "a name"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.handbookRemove(cmd, strings.Join(args, " ")) },
		ValidArgsFunction: a.completeLarder,
	}
	jsonFlag(cmd)
	return cmd
}

func setFlag(cmd *cobra.Command) {
	cmd.Flags().StringArray("set", nil, "a figure or a word, as `water=18%`; may be repeated")
}

func fieldNames(t model.Table) string {
	var names []string
	for _, f := range model.RowFields(t) {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// errNowhere is what a program that keeps no own rows says.
var errNowhere = errors.New("there is nowhere to keep rows of your own")

func (a *app) handbookAdd(cmd *cobra.Command, name string) error {
	if a.Own == nil {
		return errNowhere
	}
	table, row, err := a.newRow(cmd)
	if err != nil {
		return err
	}
	row["name"] = name
	return a.keepRow(cmd, table, row, "")
}

// newRow is what a new row begins with.
func (a *app) newRow(cmd *cobra.Command) (model.Table, model.RowText, error) {
	from, err := oneOf(cmd, "like", "sweetener", "fruit")
	switch {
	case err != nil:
		return "", nil, err
	case from == "sweetener":
		return model.SweetenerTable, model.StartRow(model.SweetenerTable), nil
	case from == "fruit":
		return model.FruitTable, model.StartRow(model.FruitTable), nil
	}
	s, err := a.larder().Find(text(cmd, "like"))
	if err != nil {
		return "", nil, under("like", err)
	}
	row, err := a.Own.RowText(s.Table(), s.ID())
	if err != nil {
		return "", nil, err
	}
	row = row.Revised()
	row["id"], row["aliases"], row["notes"] = "", "", "" // they are about the other row
	return s.Table(), row, nil
}

func (a *app) handbookChange(cmd *cobra.Command, name string) error {
	if a.Own == nil {
		return errNowhere
	}
	if err := need(cmd, "set"); err != nil {
		return err
	}
	s, err := a.larder().Find(name)
	if err != nil {
		return err
	}
	row, err := a.Own.RowText(s.Table(), s.ID())
	if err != nil {
		return err
	}
	if !s.Origin().Own() {
		row = row.Revised()
	}
	return a.keepRow(cmd, s.Table(), row, s.ID())
}

// keepRow fills the row in as the flags say, writes it and tells it. id is empty for a
// new one.
func (a *app) keepRow(cmd *cobra.Command, table model.Table, row model.RowText, id string) error {
	sets, err := cmd.Flags().GetStringArray("set")
	if err != nil {
		return err
	}
	for _, set := range sets {
		field, typed, ok := strings.Cut(set, "=")
		if !ok {
			return fmt.Errorf("--set %q is not understood; write a name and a figure, as in water=18%%", set)
		}
		if err := model.FillRow(table, row, field, typed); err != nil {
			return under("set", err)
		}
	}
	row["id"] = id
	l, err := a.Own.KeepRow(table, row)
	if err != nil {
		return err
	}
	for _, s := range l.Rows(table) {
		if s.Name() == strings.TrimSpace(row["name"]) {
			told := rowOf(s)
			return a.answer(cmd, told, append([]string{"in your handbook now:"}, rowLines(told, s.Gram())...)...)
		}
	}
	return nil
}

func (a *app) handbookRemove(cmd *cobra.Command, name string) error {
	if a.Own == nil {
		return errNowhere
	}
	s, err := a.larder().Find(name)
	if err != nil {
		return err
	}
	if _, err := a.Own.DropRow(s.Table(), s.ID()); err != nil {
		return err
	}
	said := s.Name() + " is taken out of your handbook"
	if s.Origin() == model.OwnInPlace {
		said = "your figures of " + s.Name() + " are taken away; those of the handbook count again"
	}
	return a.answer(cmd, struct {
		Removed  string `json:"removed"`
		Restored bool   `json:"restored"` // a printed row counts again
	}{s.ID(), s.Origin() == model.OwnInPlace}, said)
}
