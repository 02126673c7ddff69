package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSchemeBesideTheJob: a scheme file is looked for in the job's folder, wherever the
// program is started, and what is wrong in it is said with its own lines.
func TestSchemeBesideTheJob(t *testing.T) {
	const engine = `title = "t"
[engine]
cylinders = 1
mains = 2
thrust = "1"
rings = ["ring"]
passages = ["p"]
[shells.main]
scheme = "mains.toml"
codes = { upper = "A B", lower = "1 1", upper_row = { begins = "1" } }
`
	const scheme = `name = "mains"
matrix = [["", "1"], ["A", "red/blue"], ["B", "green"]]
housing = [{ code = "A" }, { code = "B" }]
journal = [{ code = "1" }]
`
	folder := t.TempDir()
	for name, text := range map[string]string{"job.toml": engine, "mains.toml": scheme} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	job := filepath.Join(folder, "job.toml")
	status, stdout, stderr := call(t, "-format", "json", job)
	for _, shell := range []string{`"upper red, lower blue"`, `"upper green, lower green"`} {
		if status != made || !strings.Contains(stdout, shell) {
			t.Errorf("status %d, without %s; standard error %q", status, shell, stderr)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "mains.toml"), []byte(strings.Replace(scheme, "journal =", "jurnal =", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if status, _, stderr := call(t, job); status != badInput || !strings.Contains(stderr, `mains.toml:4: unknown key "jurnal"; write journal`) {
		t.Errorf("status %d, standard error %q", status, stderr)
	}
}
