package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Handbook is the tables that the commands look things up in. The program reads
// them from wherever they are kept.
type Handbook struct {
	Containers []calc.Container
}

// container finds the row that the flag names.
func (h Handbook) container(typed string) (calc.Container, error) {
	return pick("container", typed, h.Containers, containerNames)
}

func containerNames(c calc.Container) []string { return []string{c.ID, c.Name} }

// pick returns the row that a person means by name: one of its names, or the only
// row with a name that begins with or holds the words. names come as the id first,
// which is what a complaint lists.
func pick[T any](what, typed string, all []T, names func(T) []string) (T, error) {
	want := foldName(typed)
	for _, fits := range []func(string) bool{
		func(n string) bool { return n == want },
		func(n string) bool { return strings.HasPrefix(n, want) },
		func(n string) bool { return strings.Contains(n, want) },
	} {
		var found []T
		for _, row := range all {
			if want != "" && anyName(names(row), fits) {
				found = append(found, row)
			}
		}
		switch len(found) {
		case 0:
		case 1:
			return found[0], nil
		default:
			return found[0], fmt.Errorf("%s %q could be %s: %w", what, typed, strings.Join(ids(found, names), " or "), model.ErrInvalid)
		}
	}
	var none T
	return none, fmt.Errorf("%s %q is not known; want one of %s: %w", what, typed, strings.Join(ids(all, names), ", "), model.ErrInvalid)
}

func anyName(names []string, fits func(string) bool) bool {
	for _, n := range names {
		if fits(foldName(n)) {
			return true
		}
	}
	return false
}

func ids[T any](rows []T, names func(T) []string) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = names(r)[0]
	}
	return out
}

// foldName makes names compare as people mean them.
func foldName(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ", ",", " ").Replace(strings.ToLower(s))), " ")
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
