package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

// The shell asks these while somebody types. They never complain: a cellar that
// cannot be opened has nothing to offer.

// completeLabel offers the labels of the vessels with something in them.
func (a *app) completeLabel(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return a.labels(begun, false), cobra.ShellCompDirectiveNoFileComp
}

// completeVessel offers the labels of all vessels.
func (a *app) completeVessel(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return append(a.labels(begun, false), a.labels(begun, true)...), cobra.ShellCompDirectiveNoFileComp
}

// completeVesselFlag offers the labels of empty vessels.
func (a *app) completeVesselFlag(cmd *cobra.Command) { a.completeLabelFlag(cmd, "vessel", true) }

// completeLabelFlag offers the labels of empty vessels, or of those with a batch.
func (a *app) completeLabelFlag(cmd *cobra.Command, flag string, empty bool) {
	_ = cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		return a.labels(begun, empty), cobra.ShellCompDirectiveNoFileComp
	})
}

func (a *app) labels(begun string, empty bool) []string {
	_, shelf, err := a.open()
	if err != nil {
		return nil
	}
	say := a.words(shelf.Settings)
	var out []string
	for _, label := range labelsOf(shelf) {
		v, _ := shelf.VesselNamed(label)
		b, full := shelf.BatchIn(v.ID)
		if full != empty && hasPrefixFold(label, begun) {
			about := b.Name
			if empty {
				about = say.Volume(v.Capacity) + " " + string(v.Kind)
			}
			out = append(out, say.Text(label)+"\t"+say.Text(about))
		}
	}
	return out
}

// completeSweetener offers the names of the handbook.
func (a *app) completeSweetener(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	say := a.words(model.Settings{})
	var out []string
	for _, s := range a.Sweeteners {
		if hasPrefixFold(s.ID, begun) {
			out = append(out, say.Text(s.ID)+"\t"+say.Text(s.Name()))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeWords offers a fixed list for a flag.
func completeWords[T ~string](cmd *cobra.Command, flag string, all []T) {
	_ = cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		var out []string
		for _, w := range all {
			if hasPrefixFold(string(w), begun) {
				out = append(out, string(w))
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	})
}

func hasPrefixFold(s, prefix string) bool {
	return strings.HasPrefix(strings.ToLower(s), strings.ToLower(prefix))
}
