//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/closefit/internal/thorough"
)

// mostHeld is how much memory a check may take, in kilobytes, whatever the file holds.
const mostHeld = 256 << 10

// TestHostileWithMap: whatever a file holds, the program with a map of bearings ends with an answer or with an error
// that says what was found. With -full, as in .ci/long, the files are of full size, the map that the file itself was
// understood to be is tried too, what each takes is said, and its memory is held to mostHeld. Where TESTS is not whole it
// looks at one file in four.
func TestHostileWithMap(t *testing.T) {
	mapName := file(t, "map.toml", bearingMap)
	all := hostiles()
	step := thorough.Every(4)
	if *full {
		step = 1
	}
	for i := 0; i < len(all); i += step {
		h := all[i]
		t.Run(h.name, func(t *testing.T) {
			if !*full {
				status, out, errs := try("-map", mapName, h.make(t, h.small))
				answered(t, status, out, errs)
				return
			}
			path := h.make(t, h.full)
			status, out, errs := asProgramOf(t, h, "its map", "-map", mapName, path)
			answered(t, status, out, errs)
			saved := filepath.Join(t.TempDir(), "saved.toml")
			if status, _, _ := try("-save", saved, path); status == checked {
				status, out, errs := asProgramOf(t, h, "the map saved of it", "-map", saved, path)
				answered(t, status, out, errs)
			}
		})
	}
}

// answered wants a report that says what was compared, or an error.
func answered(t *testing.T, status int, out, errs string) {
	t.Helper()
	if said := out + errs; strings.Contains(said, "panic:") || strings.Contains(said, "goroutine") {
		t.Errorf("it broke down: %.2000s", said)
	}
	switch {
	case status == badInput && out == "" && errs != "":
	case (status == checked || status == findings) && strings.Contains(out, " compared"):
	default:
		t.Errorf("status %d, said\n%.1000s\n%.1000s", status, out, errs)
	}
}

// asProgramOf runs the program on a file. With -full it says what that takes, and holds its memory to mostHeld.
func asProgramOf(t *testing.T, h hostile, which string, args ...string) (status int, out, errs string) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), os.Args[0], args...)
	peak := filepath.Join(t.TempDir(), "status")
	cmd.Env = append(os.Environ(), asProgram+"="+peak)
	var said, complained bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &complained
	begun := time.Now()
	if err := cmd.Run(); cmd.ProcessState == nil {
		t.Fatal(err)
	}
	took := time.Since(begun)
	status, out, errs = cmd.ProcessState.ExitCode(), said.String(), complained.String()
	if !*full {
		return status, out, errs
	}
	_, most, _ := strings.Cut(read(t, peak), "VmHWM:")
	var kilobytes int
	_, _ = fmt.Sscan(most, &kilobytes)
	t.Logf("| %s, %d, %s | %.1f s, of them %.1f of processor time | %d MB | %.90q |", h.name, h.full, which, took.Seconds(),
		(cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), kilobytes>>10, errs+out)
	if kilobytes > mostHeld {
		t.Errorf("%s: %d MB were held; want at most %d", which, kilobytes>>10, mostHeld>>10)
	}
	return status, out, errs
}
