package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

func (a *app) checkCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check",
		Short: "read the whole cellar and say what is wrong with it",
		Long: `Read every page and every record of the cellar, and compare what the shelf keeps of
each batch with what its journal says. Each fault is told with where it is and what to
do, and then the exit code is not 0.

--repair works out again what can be: the summaries on the shelf. Journals are never
touched.`,
		Example: "  glassrow check\n  glassrow check --repair",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.check(cmd) },
	}
	cmd.Flags().Bool("repair", false, "work the summaries out again from the journals")
	jsonFlag(cmd)
	return cmd
}

func (a *app) check(cmd *cobra.Command) error {
	path, err := a.existing()
	if err != nil {
		return err
	}
	faults, held, err := a.Cellars.Check(path, on(cmd, "repair"))
	if err != nil {
		return err
	}
	switch {
	case on(cmd, "json"):
		err = a.showJSON(newCheckJSON(path, faults, held))
	case len(faults) == 0:
		err = a.show(fmt.Sprintf("%s is sound: %s\n", a.plain(path), held))
	default:
		err = a.show(a.faultsText(faults))
	}
	if err != nil || len(faults) == 0 {
		return err
	}
	return errors.New(words.Count(len(faults), "fault", "faults") + " in " + path)
}

// checkJSON is what a check found.
type checkJSON struct {
	Path     string       `json:"path"`
	Sound    bool         `json:"sound"`
	Faults   []faultJSON  `json:"faults"`
	Contents contentsJSON `json:"contents"`
}

type faultJSON struct {
	Where string `json:"where"`
	What  string `json:"what"`
	Do    string `json:"do"`
}

func newCheckJSON(path string, faults []model.Fault, held model.Contents) checkJSON {
	out := checkJSON{Path: path, Sound: len(faults) == 0, Faults: []faultJSON{}, Contents: contentsJSON(held)}
	for _, f := range faults {
		out.Faults = append(out.Faults, faultJSON{f.Where, f.What, f.Do})
	}
	return out
}

func (a *app) faultsText(faults []model.Fault) string {
	var out []string
	for _, f := range faults {
		out = append(out, a.plain(f.Where)+": "+a.plain(f.What), "  "+a.plain(f.Do))
	}
	return joinLines(out)
}
