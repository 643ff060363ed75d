package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) noteCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "note LABEL TEXT...",
		Short:   "write down anything worth remembering",
		Long:    `Write words into the journal of the batch in a vessel.`,
		Example: "  glassrow note N1 \"smells of bread, quiet since yesterday\"\n  glassrow note N1 first bubbles --at 12h",
		Args:    takes(2, -1, "a label and what to note"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.note(cmd, args[0], strings.Join(args[1:], " "))
		},
		ValidArgsFunction: a.completeLabel,
	}
	atFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) note(cmd *cobra.Command, label, typed string) error {
	at, err := a.find(label)
	if err != nil {
		return err
	}
	n := model.Note{Text: strings.TrimSpace(typed)}
	if err := n.Validate(); err != nil {
		return err
	}
	now := a.Now()
	when, err := model.ParseWhen(text(cmd, "at"), now)
	if err != nil {
		return err
	}
	stored, err := at.store.Append(at.batch.ID, model.Entry{At: when, Recorded: now, Body: n})
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	return a.wrote(cmd, at, stored, at.writtenDown(say.Entry(n, at.label), say, when, now))
}
