package words

import "testing"

// Ensure that the locale is read as the C library does: the first that is set.
func TestUTF8(t *testing.T) {
	type env map[string]string
	for _, c := range []struct {
		env  env
		want bool
	}{
		{env{}, false},
		{env{"LANG": "en_GB.UTF-8"}, true},
		{env{"LANG": "en_GB.utf8"}, true},
		{env{"LANG": "C"}, false},
		{env{"LANG": "de_DE.ISO-8859-1"}, false},
		{env{"LANG": "en_GB.UTF-8", "LC_ALL": "C"}, false},
		{env{"LANG": "C", "LC_CTYPE": "C.UTF-8"}, true},
		{env{"LC_CTYPE": "C.UTF-8", "LC_ALL": "POSIX"}, false},
	} {
		if got := UTF8(func(name string) string { return c.env[name] }); got != c.want {
			t.Errorf("UTF8 with %v = %v, want %v", c.env, got, c.want)
		}
	}
}
