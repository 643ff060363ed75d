package e2e

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
)

// playAs is the environment variable that makes the test binary play a program in
// the terminal of another test.
const playAs = "GLASSROW_TEST_PLAY"

func TestMain(m *testing.M) {
	if part := os.Getenv(playAs); part != "" {
		os.Exit(play(part))
	}
	os.Exit(m.Run())
}

// play runs a real dashboard in the terminal of this process.
func play(part string) int {
	path := os.Getenv("GLASSROW_CELLAR")
	store, err := data.Open(path)
	if err != nil {
		os.Stderr.WriteString(err.Error())
		return 1
	}
	sweeteners, _ := data.Sweeteners()
	o := ui.Options{Store: store, Path: path, Sweeteners: sweeteners, Now: time.Now}
	if part == "panic" {
		o.Store = breaking{store}
	}
	err = ui.Run(o, ui.Terminal{In: os.Stdin, Out: os.Stdout, Getenv: os.Getenv, Env: os.Environ()})
	if err != nil {
		os.Stderr.WriteString(err.Error())
		return 3
	}
	return 0
}

// breaking is a store with a fault in it.
type breaking struct{ ui.Store }

func (breaking) Batch(model.BatchID) (model.Batch, error) { panic("a fault of our own") }

// terminal is a program running in a pseudo-terminal.
type terminal struct {
	t    *testing.T
	pty  *os.File
	cmd  *exec.Cmd
	mu   sync.Mutex
	raw  bytes.Buffer
	vt   vt10x.Terminal
	done chan struct{}
}

// startTerminal runs this test binary as part, 80x24, with more environment.
func startTerminal(t *testing.T, part, cellar string, env ...string) *terminal {
	t.Helper()
	x := &terminal{t: t, vt: vt10x.New(vt10x.WithSize(80, 24)), done: make(chan struct{})}
	x.cmd = exec.Command(os.Args[0])
	x.cmd.Env = append([]string{"PATH=" + os.Getenv("PATH"), "HOME=" + t.TempDir(), "TERM=xterm-256color", "LANG=C.UTF-8",
		playAs + "=" + part, "GLASSROW_CELLAR=" + cellar}, env...)
	var err error
	if x.pty, err = pty.StartWithSize(x.cmd, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		t.Skip("no pseudo-terminal here:", err)
	}
	t.Cleanup(func() { x.cmd.Process.Kill(); x.pty.Close() })
	go func() {
		defer close(x.done)
		buf := make([]byte, 4096)
		for {
			n, err := x.pty.Read(buf)
			x.mu.Lock()
			x.raw.Write(buf[:n])
			x.vt.Write(buf[:n])
			x.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	return x
}

// wait waits until the terminal shows text.
func (x *terminal) wait(text string) {
	x.t.Helper()
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		x.mu.Lock()
		screen := x.vt.String()
		x.mu.Unlock()
		if strings.Contains(screen, text) {
			return
		}
	}
	x.t.Fatalf("the terminal never showed %q; it got %q", text, x.sent())
}

// sent returns every byte the program sent.
func (x *terminal) sent() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.raw.String()
}

func (x *terminal) typeKeys(s string) { io.WriteString(x.pty, s) }

// exit waits for the end of the program and returns its exit code.
func (x *terminal) exit() int {
	x.t.Helper()
	select {
	case <-x.done:
	case <-time.After(20 * time.Second):
		x.t.Fatal("the program does not end")
	}
	x.cmd.Wait()
	return x.cmd.ProcessState.ExitCode()
}

// Ensure that the terminal is never asked for its background, which over SSH costs
// a round trip and can swallow keys; that a key typed before the first frame is
// not lost; and that the terminal is left as it was found.
func TestTerminal_IsNotQuestioned(t *testing.T) {
	x := startTerminal(t, "dashboard", newDemo(t))
	x.typeKeys("?")
	x.wait("vessel above")
	x.typeKeys("?")
	x.wait("Tern Point boathouse")
	x.typeKeys("q")
	if code := x.exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	sent := x.sent()
	for _, question := range []string{"]10;?", "]11;?", "\x1b[6n"} {
		if strings.Contains(sent, question) {
			t.Errorf("the terminal was asked %q", question)
		}
	}
	if !strings.Contains(sent, "\x1b[?1049l") || !strings.Contains(sent, "\x1b[?25h") {
		t.Error("the terminal was not given back its screen and cursor")
	}
}

// Ensure that without colours the selection is still seen and no colour is sent.
func TestTerminal_NoColor(t *testing.T) {
	x := startTerminal(t, "dashboard", newDemo(t), "NO_COLOR=1")
	x.wait("▸")
	x.typeKeys("q")
	x.exit()
	for _, colour := range []string{"\x1b[3", "\x1b[9", "\x1b[38"} {
		for part := range strings.SplitSeq(x.sent(), colour) {
			if rest, _, ok := strings.Cut(part, "m"); ok && len(rest) == 1 && rest >= "0" && rest <= "7" {
				t.Fatalf("a colour was sent: %q", colour+rest+"m")
			}
		}
	}
}

// Ensure that a fault of our own gives the terminal back and says that nothing is
// lost.
func TestTerminal_ComesBackAfterAPanic(t *testing.T) {
	x := startTerminal(t, "panic", newDemo(t))
	if code := x.exit(); code == 0 {
		t.Error("exit code 0 after a panic")
	}
	if sent := x.sent(); !strings.Contains(sent, "\x1b[?1049l") || !strings.Contains(sent, "everything written down is safe") {
		t.Errorf("after a panic the terminal got %q", sent)
	}
}

// Ensure that two dashboards on one file see each other's readings within two
// seconds.
func TestTerminal_TwoOnOneCellar(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cellar.db")
	if _, err := data.DemoAt(path, time.Now()); err != nil {
		t.Fatal(err)
	}
	one, two := startTerminal(t, "dashboard", path), startTerminal(t, "dashboard", path)
	one.wait("Damson wine")
	two.wait("Damson wine")
	one.typeKeys("r1.051\r")
	one.wait("written down")
	started := time.Now()
	two.wait("1.051")
	t.Logf("seen after %v", time.Since(started))
	one.typeKeys("q")
	two.typeKeys("q")
	if one.exit() != 0 || two.exit() != 0 {
		t.Error("a dashboard did not leave cleanly")
	}
}
