package e2e

import (
	"path/filepath"
	"testing"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/ui"
)

// Ensure that an open dashboard follows a restore, keeps what is being typed, and writes
// to the cellar that is there now.
func TestDashboard_FollowsARestore(t *testing.T) {
	path, whole := newCellar(t), data.CellarsWith("")
	s := open(t, path).addVessel("N1", "23L").startBatch("Perry", "20L", "1.055", "2d")
	backup := filepath.Join(t.TempDir(), "backup.db")
	if _, _, err := whole.Backup(path, backup, false); err != nil {
		t.Fatal(err)
	}
	s.Press("r").Type("1.043").Press("enter").See("N1: 1.043")
	s.Press("r").Type("1.049")
	if _, _, err := whole.Restore(path, backup, false, evening); err != nil {
		t.Fatal(err)
	}
	s.Send(ui.LookNow()).See("1.055", "1.049").Press("enter").See("N1: 1.049").Press("l").See("reading 1.049").DontSee("1.043")
}
