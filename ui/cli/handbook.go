package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Handbook is the tables, beside the sweeteners, that the commands look things up
// in. The program reads them from wherever they are kept.
type Handbook struct {
	Fruits     []model.Fruit
	Yeasts     []model.YeastKind
	Containers []calc.Container
	Acids      []calc.AcidKind
	Carbonates []calc.Carbonate
	Nitrogen   []calc.NitrogenSource
	Sorbate    calc.SorbateTable
	Limits     []calc.SulfiteLimit
}

// larder is all that can go into a must.
func (a *app) larder() model.Larder {
	h := a.Handbook
	return model.Larder{Sweeteners: a.Sweeteners, Fruits: h.Fruits, Acids: h.Acids, Carbonates: h.Carbonates, Nutrients: h.Nitrogen}
}

func containerNames(c calc.Container) []string { return []string{c.ID, c.Name} }

// pick returns the row that a person means by name. names come with the id first,
// which is what a complaint lists.
func pick[T any](what, typed string, all []T, names func(T) []string) (T, error) {
	found, ok, matches := model.FindNamed(all, names, typed)
	switch {
	case ok:
		return found, nil
	case len(matches) > 0:
		return found, fmt.Errorf("%s %q could be %s: %w", what, typed, strings.Join(ids(matches, names), " or "), model.ErrInvalid)
	}
	return found, fmt.Errorf("%s %q is not known; want one of %s: %w", what, typed, strings.Join(ids(all, names), ", "), model.ErrInvalid)
}

func ids[T any](rows []T, names func(T) []string) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = names(r)[0]
	}
	return out
}

// completeRows offers the ids of a table for a flag, with their everyday names.
func completeRows[T any](a *app, cmd *cobra.Command, flag string, all []T, names func(T) []string) {
	_ = cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		say := a.words(model.Settings{})
		var out []string
		for _, row := range all {
			if n := names(row); hasPrefixFold(n[0], begun) {
				out = append(out, say.Text(n[0])+"\t"+say.Text(n[1]))
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	})
}
