// Package version says which closefit a program was made from, for its option -version.
package version

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// Usage is what -help says of the option.
const Usage = "say which version of closefit this is, and do nothing else"

// Line is one line for a person: the program, the version, and what it was made with and for. The go
// command writes version and commit into a program that it builds in a checkout, or installs by
// its version. In others, such as those of go run, they are not known.
func Line(program string) string {
	info, _ := debug.ReadBuildInfo()
	return line(program, info)
}

func line(program string, info *debug.BuildInfo) string {
	version, commit := "unknown, not built in a checkout", ""
	if info != nil {
		if v := info.Main.Version; v != "" && v != "(devel)" {
			version = v
		}
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				commit = ", commit " + s.Value
			}
		}
	}
	return fmt.Sprintf("%s of closefit, version %s%s (%s, %s/%s)\n", program, version, commit, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
