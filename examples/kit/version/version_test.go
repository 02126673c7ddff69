package version

import (
	"runtime"
	"runtime/debug"
	"testing"
)

func TestLine(t *testing.T) {
	made := " (" + runtime.Version() + ", " + runtime.GOOS + "/" + runtime.GOARCH + ")\n"
	revision := []debug.BuildSetting{{Key: "vcs", Value: "git"}, {Key: "vcs.revision", Value: "12ab"}}
	for _, test := range []struct {
		name string
		info *debug.BuildInfo
		want string
	}{
		{"a release", &debug.BuildInfo{Main: debug.Module{Version: "v0.1.0"}, Settings: revision}, "bench of closefit, version v0.1.0, commit 12ab" + made},
		{"installed by its version", &debug.BuildInfo{Main: debug.Module{Version: "v0.1.0"}}, "bench of closefit, version v0.1.0" + made},
		{"go run", &debug.BuildInfo{Main: debug.Module{Version: "(devel)"}}, "bench of closefit, version unknown, not built in a checkout" + made},
		{"a test", &debug.BuildInfo{}, "bench of closefit, version unknown, not built in a checkout" + made},
		{"made by another build", nil, "bench of closefit, version unknown, not built in a checkout" + made},
	} {
		if got := line("bench", test.info); got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}
