package licences_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/licences"
)

var update = flag.Bool("update", false, "write LICENSES.md")

const root = "../../.."

// TestList holds LICENSES.md to what is linked into the library, into each program on every
// system that is released, and into tests.
func TestList(t *testing.T) {
	for _, file := range []string{"go.mod", "go.sum"} { // read so that the test's cached result goes when they change
		if _, err := os.ReadFile(filepath.Join(root, file)); err != nil {
			t.Fatal(err)
		}
	}
	type line struct {
		licences.Module
		in []string
	}
	lines := map[string]*line{}
	add := func(in string, b licences.Build, packages ...string) {
		b.Folder = root
		all, err := licences.Of(t.Context(), b, packages...)
		if err != nil {
			t.Fatalf("%s: %v", in, err)
		}
		for _, m := range all {
			if m.Path == licences.Closefit || strings.HasPrefix(m.Path, "Go, ") {
				continue
			}
			l := lines[m.Path]
			if l == nil {
				l = &line{Module: m}
				lines[m.Path] = l
			}
			if in == "tests alone" && len(l.in) > 0 || slices.Contains(l.in, in) {
				continue
			}
			l.in = append(l.in, in)
		}
	}
	add("the library", licences.Build{}, "./units/...", "./clearance/...", "./grading/...", "./fasteners/...", "./torque/...")
	programs := mains(t)
	for _, system := range []string{"linux", "windows", "darwin"} {
		add("programs", licences.Build{Env: []string{"GOOS=" + system, "CGO_ENABLED=0"}}, programs...)
	}
	add("the wasm module", licences.Build{Env: []string{"GOOS=wasip1", "GOARCH=wasm"}}, "./examples/wasm")
	add("tests alone", licences.Build{Tests: true}, "./...")

	var b bytes.Buffer
	b.WriteString("# Licences of what closefit is built from\n\nclosefit itself is under the [MIT licence](../../../LICENSE). Go's runtime and library are under BSD-3-Clause with a patent\ngrant. The rest are modules, each with its own licence; archives of programs hold the texts. `go test\n./examples/kit/licences -update` writes this page. The test fails if it is out of date, if a module has no licence, or if\nthe licence of one that is linked into the library or a program is not known to be permissive. What tests alone use is\nnot handed on.\n\n| Module | Version | Licence | Linked into |\n|---|---|---|---|\n")
	var paths []string
	for p := range lines {
		paths = append(paths, p)
	}
	slices.Sort(paths)
	for _, p := range paths {
		l := lines[p]
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", p, l.Version, strings.Join(l.Kinds(), ", "), strings.Join(l.in, ", "))
	}
	want := b.Bytes()
	page := "LICENSES.md"
	if *update {
		if err := os.WriteFile(page, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("LICENSES.md is out of date (%v); run go test ./examples/kit/licences -update and read the change\n%s", err, want)
	}
}

// mains are the programs: the folders of examples, each with a file that says package main.
func mains(t *testing.T) (all []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root, "examples", "*", "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		dir := "./examples/" + filepath.Base(filepath.Dir(file))
		if bytes.Contains(text, []byte("\npackage main\n")) && !strings.HasSuffix(file, "_test.go") && !slices.Contains(all, dir) {
			all = append(all, dir)
		}
	}
	if len(all) < 6 {
		t.Fatalf("programs %q; there are more", all)
	}
	return all
}

const redistribution = "Redistribution and use in source and binary forms, with or without\nmodification, are permitted provided that the following conditions are\nmet:\n* Redistributions in binary form must reproduce the above copyright notice\n"

func TestKind(t *testing.T) {
	mit := "Permission is hereby granted, free of charge, to any person obtaining a copy of this\n   software and associated documentation files\nThe above copyright notice and this permission notice shall be included in all copies"
	for _, test := range []struct{ name, text, want string }{
		{"mit, broken in other lines", mit, "MIT"},
		{"three clauses", redistribution + "may be used to endorse or promote products derived from this software", "BSD-3-Clause"},
		{"two clauses", redistribution, "BSD-2-Clause"},
		{"the old four", redistribution + "All advertising materials mentioning features", ""},
		{"named, and still refused", "Mozilla Public License Version 2.0\n====", "MPL-2.0"},
		{"copyleft", "GNU GENERAL PUBLIC LICENSE Version 3", ""},
		{"permissive, with a clause behind", mit + "\n\"Commons Clause\" License Condition v1.0", ""},
		{"a promise without a grant", "This software is provided as is.", ""},
		{"nothing", "", ""},
	} {
		kind, err := licences.Kind([]byte(test.text))
		if kind != test.want || (test.want == "" || test.want == "MPL-2.0") != errors.Is(err, licences.ErrNotPermissive) {
			t.Errorf("%s: %q, %v; want %q", test.name, kind, err, test.want)
		}
	}
}

// TestFaults: a module without a licence, or with a bad one in the folder of a package, is refused;
// one beside a folder that is not linked is not looked at.
func TestFaults(t *testing.T) {
	own, err := os.ReadFile(filepath.Join(root, "LICENSE"))
	if err != nil {
		t.Fatal(err)
	}
	gpl := []byte("GNU General Public License, version 2")
	for _, test := range []struct {
		name  string
		files map[string][]byte
		fault string
	}{
		{"as it should be", map[string][]byte{"LICENSE": own, "unused/LICENSE": gpl}, ""},
		{"none", map[string][]byte{}, "no licence"},
		{"a notice alone", map[string][]byte{"NOTICE": []byte("by somebody")}, "no licence"},
		{"one that binds", map[string][]byte{"COPYING": gpl}, "COPYING: not a licence that is known"},
		{"one that binds, in a folder that is linked", map[string][]byte{"LICENSE": own, "inner/LICENSE.txt": gpl}, "inner/LICENSE.txt: "},
	} {
		dir := t.TempDir()
		for name, text := range map[string][]byte{
			"go.mod":           []byte("module example.com/other\n\ngo 1.26\n\nrequire example.com/dep v1.0.0\n\nreplace example.com/dep => ./dep\n"),
			"main.go":          []byte("package main\n\nimport \"example.com/dep/inner\"\n\nfunc main() { inner.Do() }\n"),
			"LICENSE":          own,
			"dep/go.mod":       []byte("module example.com/dep\n\ngo 1.26\n"),
			"dep/inner/x.go":   []byte("package inner\n\nfunc Do() {}\n"),
			"dep/unused/x.go":  []byte("package unused\n"),
			"dep/inner/y.text": nil,
		} {
			put(t, filepath.Join(dir, name), text)
		}
		for name, text := range test.files {
			put(t, filepath.Join(dir, "dep", name), text)
		}
		all, err := licences.Of(t.Context(), licences.Build{Folder: dir, Env: []string{"GOFLAGS=-mod=mod", "GOPROXY=off"}}, ".")
		switch {
		case test.fault == "" && (err != nil || len(all) != 3):
			t.Errorf("%s: %v, %v", test.name, all, err)
		case test.fault != "" && (err == nil || !strings.Contains(err.Error(), "example.com/dep") || !strings.Contains(err.Error(), test.fault)):
			t.Errorf("%s: %v, want %q", test.name, err, test.fault)
		}
	}
}

func put(t *testing.T, file string, text []byte) {
	t.Helper()
	if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, text, 0o644)); err != nil {
		t.Fatal(err)
	}
}
