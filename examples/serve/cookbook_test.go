package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask/npm"
	"example.com/closefit/internal/thorough"
)

const cookbook = "../COOKBOOK.md"

// said runs a program of the recipes and returns what it printed.
func said(t *testing.T, folder, program string, args ...string) string {
	t.Helper()
	path := thorough.Program(t, program)
	var out, wrong bytes.Buffer
	c := exec.CommandContext(t.Context(), path, args...)
	c.Dir, c.Env, c.Stdout, c.Stderr = folder, append(os.Environ(), "PYTHONIOENCODING=utf-8", "PYTHONDONTWRITEBYTECODE=1"), &out, &wrong
	if err := c.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s%s", program, args, err, out.String(), wrong.String())
	}
	return out.String()
}

// A bench is a folder for the recipes, with the package for JavaScript in its node_modules once one asks for it.
type bench struct {
	folder string
	packed bool
}

func (b *bench) pack(t *testing.T) string {
	t.Helper()
	thorough.Program(t, "node")
	if b.packed {
		return b.folder
	}
	if err := os.CopyFS(b.folder, os.DirFS("testdata/cookbook")); err != nil {
		t.Fatal(err)
	}
	if err := npm.Write(t.Context(), filepath.Join(b.folder, "node_modules", "closefit")); err != nil {
		t.Fatal(err)
	}
	b.packed = true
	return b.folder
}

// recipes run a recipe each, and return what it prints.
var recipes = map[string]func(t *testing.T, b *bench) string{
	"service.py": func(t *testing.T, _ *bench) string {
		return said(t, "testdata/cookbook", "python3", "service.py", "http://"+serving(t).at)
	},
	"three.py": func(t *testing.T, _ *bench) string {
		return said(t, "testdata/cookbook", "python3", "three.py", "http://"+serving(t).at)
	},
	"stub.py": func(t *testing.T, _ *bench) string {
		return said(t, "testdata/cookbook", "python3", "stub.py", "http://"+serving(t).at)
	},
	"module.py": func(t *testing.T, b *bench) string {
		return said(t, b.pack(t), "python3", "module.py", "node_modules/closefit")
	},
	"sheet.mjs": func(t *testing.T, b *bench) string { return said(t, b.pack(t), "node", "sheet.mjs") },
}

// included is a block of the cookbook that stands elsewhere: a file, or what a recipe prints.
var included = regexp.MustCompile("(?s)<!-- (file|output) (\\S+) -->\n```(\\w*)\n(.*?)```\n")

// TestCookbook: each recipe of COOKBOOK.md is the file of that name, and prints what the page shows.
// That of embed_external_test.go is checked by its own test.
func TestCookbook(t *testing.T) {
	page, err := os.ReadFile(cookbook)
	if err != nil {
		t.Fatal(err)
	}
	shown, b := map[string]bool{}, bench{folder: t.TempDir()}
	made := included.ReplaceAllFunc(page, func(block []byte) []byte {
		m := included.FindSubmatch(block)
		kind, name, language := string(m[1]), string(m[2]), m[3]
		want := block
		t.Run(kind+" "+name, func(t *testing.T) {
			text := ""
			if kind == "file" {
				read, err := os.ReadFile(filepath.FromSlash(name))
				if err != nil {
					t.Fatal(err)
				}
				text = string(read)
			} else {
				run, is := recipes[name]
				if !is {
					t.Fatalf("no test runs %q", name)
				}
				shown[name] = true
				text = run(t, &b)
			}
			if strings.Contains(text, "```") {
				t.Fatal("it would end the block that shows it")
			}
			want = fmt.Appendf(nil, "<!-- %s %s -->\n```%s\n%s```\n", kind, name, language, text)
			if !*update && !bytes.Equal(want, block) {
				t.Errorf("COOKBOOK.md does not show it: run go test ./examples/serve -run Cookbook -update, and read the change\n%s", text)
			}
		})
		return want
	})
	for name := range recipes {
		if !shown[name] {
			t.Errorf("COOKBOOK.md does not show what %s prints", name)
		}
	}
	if *update && !t.Failed() {
		if err := os.WriteFile(cookbook, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
