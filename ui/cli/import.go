package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

func (a *app) importCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "import FILE|-",
		Short: "read a cellar that export wrote",
		Long: `Read what glassrow export wrote, from a file or from standard input for -. All of it
comes in or, when a line cannot be, nothing does.

Into a cellar that is new or empty it makes the same cellar, numbers and lots too. One
that has content is refused; with --add it gets what it lacks:

  vessels     that are not there yet; one whose label another has is called N1-2
  batches     that are not there yet, under their number if it is free, else the next
  entries     that the file has more of a batch than the cellar; a batch whose journals
              part in the middle is a reason to refuse all
  the rest    plans, recipes and own rows of the handbook whose name is not taken

What is there stays as it is, the settings too. Own rows are added to the handbook
that every cellar of yours shares.`,
		Example: "  glassrow import cellar.jsonl\n  glassrow import - --cellar copy.db < cellar.jsonl\n  glassrow import laptop.jsonl --add",
		Args:    takes(1, 1, "a file, or - for standard input"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.importFrom(cmd, args[0]) },
	}
	cmd.Flags().Bool("add", false, "add what is missing to a cellar that has content")
	jsonFlag(cmd)
	return cmd
}

func (a *app) importFrom(cmd *cobra.Command, from string) error {
	add := on(cmd, "add")
	path, err := a.path()
	if err != nil {
		return err
	}
	if err := namedFile(from); err != nil {
		return err
	}
	var done model.Imported
	if from == "-" {
		done, err = a.Cellars.Import(path, a.In, add)
	} else if from, err = filepath.Abs(from); err == nil {
		done, err = a.Cellars.ImportFile(path, from, add)
	}
	if err != nil {
		return err
	}
	if on(cmd, "json") {
		return a.showJSON(importedJSON{path, contentsJSON(done.Added), contentsJSON(done.Left), append([]string{}, done.Remarks...)})
	}
	out := fmt.Sprintf("Added to %s: %s\n", a.plain(path), done.Added)
	if !done.Left.Empty() {
		out += fmt.Sprintf("There already: %s\n", done.Left)
	}
	return a.show(out + a.lines(done.Remarks))
}

// importedJSON is what came in, and what was there already.
type importedJSON struct {
	Path    string       `json:"path"`
	Added   contentsJSON `json:"added"`
	There   contentsJSON `json:"there_already"`
	Remarks []string     `json:"remarks"`
}
