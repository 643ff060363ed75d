package e2e

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
)

// Ensure that an open dashboard shows what a device says while its pipe stays open, within
// its look for other sessions.
func TestTerminal_SeesADevice(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cellar.db")
	s, err := data.Create(path, model.Settings{CellarName: "Shed"})
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.AddVessel(model.Vessel{Label: "N1", Kind: model.Carboy, Capacity: 23, Added: time.Now()})
	if err != nil {
		t.Fatal(err)
	}
	from := time.Now().Add(-50 * time.Hour)
	_, err = s.StartBatch(model.Batch{Name: "Perry", Drink: model.Perry, Entries: []model.Entry{
		{At: from, Body: model.Must{Vessel: v.ID, Volume: 20, Gravity: 1.060}},
		{At: from, Body: model.Pitch{Yeast: model.WineYeast}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	x := startTerminal(t, "dashboard", path)
	x.wait("Perry")
	in, device := io.Pipe()
	var out, errs bytes.Buffer
	ended := make(chan int)
	go func() {
		ended <- cli.Run(cli.Deps{Open: openOnDisk, Now: time.Now, Getenv: func(string) string { return "" }, In: in, Out: &out, Err: &errs},
			[]string{"--cellar", path, "record", "--stdin"})
	}()
	for i, sg := range []string{"1.0512", "1.0437"} {
		at := time.Now().Add(time.Duration(i-2) * 7 * time.Hour)
		for k := range 3 {
			fmt.Fprintf(device, "%s,N1,%s@20c\n", at.Add(time.Duration(k)*time.Second).Format(time.RFC3339), sg)
		}
		x.wait(sg)
	}
	x.wait("a floating device's gravity")
	device.Close()
	if code := <-ended; code != 0 || !strings.Contains(out.String(), "6 new readings") {
		t.Errorf("exit code %d, %q, %q", code, out.String(), errs.String())
	}
	x.typeKeys("q")
	x.exit()
}

// Ensure that what another session records of a device is on the shelf, the chart and in
// the figures, that a reading by hand goes before it, and that all of it is there after a
// restart.
func TestDashboard_ShowsADevice(t *testing.T) {
	path := newCellar(t)
	here := open(t, path).addVessel("N1", "23L").startBatch("Perry", "20L", "1.055", "4d")
	c := newCommands(t, path)
	var lines strings.Builder
	for h := 1; h < 90; h++ {
		fmt.Fprintf(&lines, "%s,N1,%.4f@20c\n", evening.Add(time.Duration(h-92)*time.Hour).Format(time.RFC3339), 1.058-0.0003*float64(h))
	}
	c.deps.In = strings.NewReader(lines.String())
	if out, ok := c.run("record", "--stdin"); !ok || !strings.Contains(out, "89 new readings") {
		t.Fatalf("record --stdin: %q", out)
	}
	here.Send(ui.LookNow()).See("1.030", "± 2 points", "taken down 1.8 points", "1.0301 by device, from 1.055").DontSee("too few readings")
	here.Press("r").Type("1.027 !2h").Press("enter").See("N1: 1.027", "1.0270 from 1.055", "7.7 points a day")
	here.Press("l").See("reading 1.027", "-28").DontSee("1.030").Press("esc")
	open(t, path).See("1.0270 from 1.055")
}
