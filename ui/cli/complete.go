package cli

import (
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

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

// completeBatch offers labels, and the names of the batches that are in no vessel any
// more.
func (a *app) completeBatch(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	out, directive := a.completeLabel(cmd, args, begun)
	_, shelf, err := a.open()
	if err != nil || len(args) > 0 {
		return out, directive
	}
	say := a.words(shelf.Settings)
	for _, b := range shelf.Batches {
		if b.Vessel == 0 && !b.Undone() && hasPrefixFold(b.Name, begun) {
			out = append(out, say.Text(b.Name)+"\t"+say.Text(string(b.Standing)))
		}
	}
	return out, directive
}

// completeThen offers labels, and for the second word what second does.
func (a *app) completeThen(second cobra.CompletionFunc) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 1 {
			return second(cmd, args, begun)
		}
		return a.completeLabel(cmd, args, begun)
	}
}

// completeStuff offers what can go into a must.
func (a *app) completeStuff(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	say := a.words(model.Settings{})
	var out []string
	for _, s := range a.larder().All() {
		if hasPrefixFold(s.Name(), begun) {
			out = append(out, say.Text(s.Name()))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeNutrient offers what feeds yeast.
func (a *app) completeNutrient(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, n := range a.Handbook.Nitrogen {
		if hasPrefixFold(n.Name, begun) {
			out = append(out, a.words(model.Settings{}).Text(n.Name))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeEntry offers the numbers of the entries of the batch that the first word names,
// the last one first.
func (a *app) completeEntry(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	at, err := a.find(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	say := a.words(at.settings)
	var out []string
	for _, e := range slices.Backward(at.batch.Entries) {
		if id := strconv.FormatUint(uint64(e.ID), 10); strings.HasPrefix(id, begun) {
			out = append(out, id+"\t"+say.Text(say.Entry(e.Body, at.label)))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
}

// completeTheRest keeps the shell from offering files where none is asked for.
func completeTheRest(cmd *cobra.Command) {
	files := map[string]bool{"cellar": true, "out": true, "keep": cmd.Name() == "demo"}
	cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
		if _, there := cmd.GetFlagCompletionFunc(f.Name); !there && !files[f.Name] {
			_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.NoFileCompletions)
		}
	})
	for _, sub := range cmd.Commands() {
		completeTheRest(sub)
	}
}
