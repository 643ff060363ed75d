package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"
)

func (a *app) backupCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "backup FILE",
		Short: "copy the cellar to a file, while others use it",
		Long: `Copy the cellar, as it is at one moment, to a file. Dashboards and scripts may go on
writing meanwhile. The copy is read again before it gets its name, and takes the place
of no other file. Your own rows of the handbook are not in it; they are in an export.`,
		Example: "  glassrow backup cellar-2026-11-20.db",
		Args:    takes(1, 1, "a file"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.backup(cmd, args[0]) },
	}
	forceFlag(cmd)
	jsonFlag(cmd)
	return cmd
}

func (a *app) backup(cmd *cobra.Command, to string) error {
	path, err := a.existing()
	if err != nil {
		return err
	}
	if err := namedFile(to); err != nil {
		return err
	}
	if to, err = filepath.Abs(to); err != nil {
		return err
	}
	held, faults, err := a.Cellars.Backup(path, to, on(cmd, "force"))
	if err != nil {
		return inTheWay(to, err)
	}
	if faults > 0 {
		return fmt.Errorf("copied to %s, but %d records of the cellar cannot be read; glassrow check says which", to, faults)
	}
	if on(cmd, "json") {
		return a.showJSON(copiedJSON{Path: to, Contents: contentsJSON(held)})
	}
	return a.show(fmt.Sprintf("Copied to %s and read again: %s\n", a.plain(to), held))
}

// copiedJSON is a cellar that was copied or put back.
type copiedJSON struct {
	Path     string       `json:"path"`
	Kept     string       `json:"kept,omitempty"` // what was at the path before a restore
	Contents contentsJSON `json:"contents"`
}

func (a *app) restoreCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "restore FILE",
		Short: "put a backup in the place of the cellar",
		Long: `Put a copy of a backup in the place of the cellar. The backup is checked first. The
cellar that was there stays beside it under a name with the time, so nothing is lost by
a restore of the wrong file. Open dashboards show the restored cellar within seconds.`,
		Example: "  glassrow restore cellar-2026-11-20.db",
		Args:    takes(1, 1, "a backup"),
		RunE:    func(cmd *cobra.Command, args []string) error { return a.restore(cmd, args[0]) },
	}
	cmd.Flags().Bool("force", false, "also a backup with records that cannot be read")
	jsonFlag(cmd)
	return cmd
}

func (a *app) restore(cmd *cobra.Command, from string) error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if err := namedFile(from); err != nil {
		return err
	}
	if from, err = filepath.Abs(from); err != nil {
		return err
	}
	kept, held, err := a.Cellars.Restore(path, from, on(cmd, "force"), a.Now())
	if err != nil {
		return err
	}
	if on(cmd, "json") {
		return a.showJSON(copiedJSON{Path: path, Kept: kept, Contents: contentsJSON(held)})
	}
	out := fmt.Sprintf("Restored %s from %s: %s\n", a.plain(path), a.plain(from), held)
	if kept != "" {
		out += fmt.Sprintf("What was there before is in %s\n", a.plain(kept))
	}
	return a.show(out)
}
