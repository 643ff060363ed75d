package cli

import (
	"runtime/debug"
	"strings"
)

// version says which build this is: the module's version, or the commit it was
// built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of an unknown build"
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) string {
	parts := []string{strings.Trim(info.Main.Version, "()")}
	if parts[0] == "" {
		parts[0] = "devel"
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision" && !strings.Contains(parts[0], s.Value[:min(12, len(s.Value))]):
			parts = append(parts, s.Value[:min(12, len(s.Value))])
		case s.Key == "vcs.modified" && s.Value == "true" && !strings.Contains(parts[0], "dirty"):
			parts = append(parts, "modified")
		}
	}
	return strings.Join(append(parts, info.GoVersion), " ")
}
