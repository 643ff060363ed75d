package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/sheet"
	"cellar.local/glassrow/ui/words"
)

func (a *app) sheetCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "sheet LABEL|BATCH",
		Short: "print a batch as a sheet of paper",
		Long: `Print a batch as a document: what went in, the curve, figures, standing, bottling,
tastings, cautions and allergens, lot number and the journal. It is Markdown or, with
--html, a page to print that stands by itself. --out writes it to a file.

Name a batch by the label of its vessel, its name, its lot, or '#' and its number, which
the shell wants in quotes; so too what was bottled and is in no vessel any more.`,
		Example:           "  glassrow sheet N1\n  glassrow sheet \"Quince wine\" --html --out quince.html",
		Args:              takes(1, 1, "a label or a batch"),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.sheet(cmd, args[0]) },
		ValidArgsFunction: a.completeBatch,
	}
	cmd.Flags().Bool("html", false, "a page of HTML")
	cmd.Flags().Bool("markdown", false, "Markdown, which it is unless told otherwise")
	cmd.Flags().String("out", "", "write it to this `FILE`")
	cmd.Flags().Bool("force", false, "with --out, write over a file that is there")
	return cmd
}

func (a *app) sheet(cmd *cobra.Command, name string) error {
	if on(cmd, "html") && on(cmd, "markdown") {
		return errors.New("--html and --markdown say two things; give one of them")
	}
	at, err := a.find(name)
	if err != nil {
		return err
	}
	say := a.words(at.settings)
	out := text(cmd, "out")
	if out != "" || on(cmd, "html") {
		say.Signs = words.AnySign // a file is UTF-8 whatever the terminal can show
	}
	s := sheet.New(a.sheetSource(at, say))
	content := s.Markdown()
	if on(cmd, "html") {
		if content, err = s.HTML(); err != nil {
			return err
		}
	}
	if out == "" {
		return a.show(content)
	}
	return a.keepSheet(out, content, on(cmd, "force"), a.words(at.settings))
}

// keepSheet writes it to a file.
func (a *app) keepSheet(out, content string, force bool, say words.Words) error {
	path, err := filepath.Abs(out)
	if err != nil {
		return err
	}
	err = a.WriteFile(path, []byte(content), force)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; name another file, or write over it with --force", path)
	}
	if err != nil {
		return err
	}
	return a.show("Written to " + say.Text(path) + "\n")
}

// sheetSource gathers what a sheet is made from.
func (a *app) sheetSource(at spot, say words.Words) sheet.Source {
	now := a.Now()
	state, err := model.Replay(at.batch, now)
	out := sheet.Source{Batch: at.batch, State: state, Err: err, Labels: at.label, Tares: at.shelf.Tare, Words: say, Now: now,
		Larder: a.larder(), Sorbate: a.Handbook.Sorbate}
	if err == nil {
		// Without a forecast the sheet says nothing of the future.
		out.Outlook, _ = model.Foresee(at.batch, now)
	}
	return out
}
