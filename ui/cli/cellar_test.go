package cli

import (
	"testing"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui/words"
)

// env is an environment for tests.
type env map[string]string

func (e env) get(name string) string { return e[name] }

// Ensure that the cellar is looked for where the person and the system say.
func TestApp_Path(t *testing.T) {
	for name, c := range map[string]struct {
		flag string
		env  env
		want string // empty: an error
	}{
		"the flag first":          {"/a/b.db", env{"GLASSROW_CELLAR": "/c.db", "HOME": "/h"}, "/a/b.db"},
		"then the environment":    {"", env{"GLASSROW_CELLAR": "/c.db", "HOME": "/h"}, "/c.db"},
		"then the data directory": {"", env{"XDG_DATA_HOME": "/x", "HOME": "/h"}, "/x/glassrow/cellar.db"},
		"a relative one ignored":  {"", env{"XDG_DATA_HOME": "x", "HOME": "/h"}, "/h/.local/share/glassrow/cellar.db"},
		"no home at all":          {"", env{}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			a := app{Deps: Deps{Getenv: c.env.get}, cellar: c.flag}
			got, err := a.path()
			if got != c.want || (err != nil) != (c.want == "") {
				t.Errorf("path() = %q, %v, want %q", got, err, c.want)
			}
		})
	}
}

// Ensure that the commands show what the dashboard would on the same terminal.
func TestApp_Words(t *testing.T) {
	for name, c := range map[string]struct {
		env  env
		want words.Words
	}{
		"UTF-8":               {env{"LANG": "en_GB.UTF-8", "TERM": "xterm"}, words.Words{Signs: words.AnySign}},
		"the Linux console":   {env{"LANG": "en_GB.UTF-8", "TERM": "linux"}, words.Words{Signs: words.FewSigns}},
		"no locale":           {env{"TERM": "xterm"}, words.Words{Signs: words.ASCII}},
		"ASCII asked for":     {env{"LANG": "en_GB.UTF-8", "GLASSROW_RUNES": "ascii"}, words.Words{Signs: words.ASCII}},
		"more than ASCII too": {env{"LANG": "C", "GLASSROW_RUNES": "blocks"}, words.Words{Signs: words.AnySign}},
	} {
		t.Run(name, func(t *testing.T) {
			a := app{Deps: Deps{Getenv: c.env.get}}
			if got := a.words(model.Settings{}); got != c.want {
				t.Errorf("words() = %+v, want %+v", got, c.want)
			}
		})
	}
}
