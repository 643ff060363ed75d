package words

import "strings"

// UTF8 tells from the locale whether the terminal shows more than ASCII. The first
// of LC_ALL, LC_CTYPE and LANG that is set decides, as in the C library.
func UTF8(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(getenv(name)); locale != "" {
			return strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
		}
	}
	return false
}
