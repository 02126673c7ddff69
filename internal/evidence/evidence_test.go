package evidence_test

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"example.com/closefit/internal/evidence"
)

const root = "../.."

var update = flag.Bool("update", false, "rewrite EVIDENCE.md and the golden files of this package")

// TestEvidence runs every row of every package and compares EVIDENCE.md with what it
// finds; with -update it writes the file.
func TestEvidence(t *testing.T) {
	var reports []evidence.Report
	for _, p := range evidence.Packages(root) {
		reports = append(reports, evidence.Run(t, p))
	}
	if err := evidence.CheckOriginals(reports); err != nil {
		t.Error(err)
	}
	if err := evidence.CheckShares(reports); err != nil {
		t.Error(err)
	}
	if err := evidence.CheckTolerances(reports); err != nil {
		t.Error(err)
	}
	if t.Failed() {
		t.Fatal("EVIDENCE.md is neither compared nor written while a row fails")
	}
	switch runtime.GOARCH {
	case "386", "amd64", "arm":
		golden(t, filepath.Join(root, "EVIDENCE.md"), evidence.Markdown(reports))
	default: // s390x, arm64 and others multiply and add in one rounding, which float64's last bits show
		t.Logf("every row holds; the deviations in EVIDENCE.md are those of amd64, and are not compared on %s", runtime.GOARCH)
	}
}

// TestPropertiesAreTested keeps EVIDENCE.md from naming tests that are not there.
func TestPropertiesAreTested(t *testing.T) {
	if err := evidence.CheckProperties(root); err != nil {
		t.Error(err)
	}
	if err := evidence.CheckProperties(t.TempDir()); err == nil {
		t.Error("a folder without tests passes")
	}
}

// TestEveryFolderIsRegistered keeps rows from lying somewhere unrun.
func TestEveryFolderIsRegistered(t *testing.T) {
	registered := map[string]bool{}
	for _, p := range evidence.Packages(root) {
		registered[filepath.Clean(p.Dir)] = true
	}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case !d.IsDir():
			return nil
		case path == filepath.Join(root, ".git"), path == filepath.Join(root, "internal"):
			return fs.SkipDir
		case d.Name() == "evidence" && filepath.Base(filepath.Dir(path)) == "testdata" && !registered[path]:
			t.Errorf("%s is in no package of the table in packages.go", path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// golden compares a file with what it should hold, or writes it with -update.
func golden(t *testing.T, path string, want []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if err := evidence.Stale(path, want); err != nil {
		t.Errorf("%v\nread the change, then write it: go test ./internal/evidence -update", err)
	}
}
