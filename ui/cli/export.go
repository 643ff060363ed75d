package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) exportCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "export FILE|-",
		Short: "write the whole cellar as JSON lines, or a batch's readings for a spreadsheet",
		Long: `Write all that is in the cellar to a file, or to standard output for -: settings,
vessels, batches with their journals, plans, recipes, readings of devices, and your
own rows of the handbook. glassrow import makes the same cellar of it. It is text, an
object a line, SI units named in the keys, so other programs can read it too.

--csv writes the readings of one batch instead, a line each, as a table with commas:
time, sg at 20 C, temperature_c, ph, ta_g_l, free_so2_mg_l, mass_kg, level_l, note.
What was struck out is left out. A note that a spreadsheet would take for a formula
gets a ' before it.`,
		Example: `  glassrow export cellar.jsonl
  glassrow export - | gzip > cellar.jsonl.gz
  glassrow export --csv N1 readings.csv`,
		Args: takes(0, 1, "no more"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("csv") {
				return a.exportCSV(cmd, text(cmd, "csv"), append(args, "-")[0])
			}
			if len(args) == 0 {
				return fmt.Errorf("%s needs a file, or - for standard output, as in: %s", called(cmd), example(cmd))
			}
			return a.export(cmd, args[0])
		},
	}
	cmd.Flags().String("csv", "", "only the readings of the batch in the vessel `LABEL`, as a table")
	a.completeLabelFlag(cmd, "csv", false)
	forceFlag(cmd)
	return cmd
}

// forceFlag defines --force for what writes a file.
func forceFlag(cmd *cobra.Command) {
	cmd.Flags().Bool("force", false, "write over a file that is there")
}

func (a *app) export(cmd *cobra.Command, to string) error {
	path, err := a.existing()
	if err != nil {
		return err
	}
	var held model.Contents
	return a.output(cmd, to, func() string { return held.String() }, func(w io.Writer) error {
		held, err = a.Cellars.Export(path, w)
		return err
	})
}

// output gives what fill writes to a file, and then says what it was; or to standard
// output, and then nothing more.
func (a *app) output(cmd *cobra.Command, to string, what func() string, fill func(io.Writer) error) error {
	if to == "-" {
		return fill(a.Out)
	}
	if err := namedFile(to); err != nil {
		return err
	}
	path, err := filepath.Abs(to)
	if err != nil {
		return err
	}
	if err := a.Cellars.WriteFile(path, on(cmd, "force"), fill); err != nil {
		return inTheWay(path, err)
	}
	return a.show(fmt.Sprintf("Written to %s: %s\n", a.plain(path), what()))
}

// inTheWay says what to do about a file that is there already.
func inTheWay(path string, err error) error {
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already; name another file, or write over it with --force", path)
	}
	return err
}

// plain makes a path safe to print.
func (a *app) plain(s string) string { return a.words(model.Settings{}).Text(s) }

// lines makes what a file or a cellar says safe to print, a line each.
func (a *app) lines(each []string) string {
	if len(each) == 0 {
		return ""
	}
	for i, s := range each {
		each[i] = "  " + a.plain(s)
	}
	return joinLines(each)
}

func readingsCount(n int) string { return words.Count(n, "reading", "readings") }
