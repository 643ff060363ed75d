package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
)

func (a *app) demoCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "look around in an invented cellar",
		Long: `Show the dashboard on a fresh copy of the demo cellar, twelve vessels from a
first-day must to last year's bottles. Change what you like: the copy goes when
you leave, unless --keep names a file for it. Without a terminal it prints the
shelf once.`,
		Example: "  glassrow demo\n  glassrow demo --keep demo.db",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.demo(text(cmd, "keep")) },
	}
	cmd.Flags().String("keep", "", "write the demo cellar to this new `FILE` and leave it there")
	return cmd
}

func (a *app) demo(keep string) error {
	path, ownRows := keep, ""
	if keep == "" {
		dir, err := os.MkdirTemp("", "glassrow-demo-")
		if err != nil {
			return fmt.Errorf("a place for the demo cellar: %w", err)
		}
		defer os.RemoveAll(dir)
		path, ownRows = filepath.Join(dir, "demo.db"), dir // thrown away with the cellar
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	store, err := a.Demo(path, a.Now())
	if err != nil {
		return err
	}
	if a.hasScreen() {
		return a.Dashboard(DashboardRequest{Path: path, Store: store, Demo: true, OwnRows: ownRows})
	}
	shelf, err := store.Shelf()
	if err != nil {
		return err
	}
	out := a.shelfText(shelf)
	if keep != "" {
		out += fmt.Sprintf("Kept in %s\n", a.words(shelf.Settings).Text(store.Path()))
	}
	return a.show(out)
}
