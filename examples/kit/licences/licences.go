// Package licences collects the licences of all modules that are compiled into a program, from the
// folders of the modules themselves. A module without a licence, and a licence that is not known to
// be permissive, is an error.
//
// It reads the words of a licence and is no lawyer. It needs the go command and the tree.
package licences

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// Closefit is the path of our own module.
const Closefit = "example.com/closefit"

// A Module is one module that is compiled in, with its licence. Go's own library counts as a module
// named "Go, its runtime and its library".
type Module struct {
	Path, Version string
	Files         []File // in order of their names; at least one
}

// A File is one file of a licence.
type File struct {
	Name string // within the module, with slashes
	Kind string // "MIT", …
	Text []byte
}

// Kinds returns the kinds of the module's files, each once.
func (m Module) Kinds() []string {
	var kinds []string
	for _, f := range m.Files {
		kinds = append(kinds, f.Kind)
	}
	slices.Sort(kinds)
	return slices.Compact(kinds)
}

// A Build says for which system, and how, packages are compiled.
type Build struct {
	Folder string   // in the tree; "" is the present one
	Env    []string // beside those of this process, such as GOOS=windows
	Tags   string
	Tests  bool // their tests too, which are not handed on: MPL-2.0 will do
}

// Of returns the modules that are compiled into the packages, Go's library and closefit among
// them, in order of their paths.
func Of(ctx context.Context, b Build, packages ...string) ([]Module, error) {
	args := []string{"list", "-deps", "-tags=" + b.Tags, "-json=Dir,Module"}
	if b.Tests {
		args = append(args, "-test")
	}
	list, err := b.run(ctx, append(append(args, "--"), packages...)...)
	if err != nil {
		return nil, err
	}
	type module struct{ Path, Version, Dir string }
	folders := map[module][]string{} // of the packages, by their module
	for d := json.NewDecoder(bytes.NewReader(list)); ; {
		var p struct {
			Dir    string
			Module *module
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("go list: %w", err)
		}
		if p.Module != nil && p.Dir != "" {
			folders[*p.Module] = append(folders[*p.Module], p.Dir)
		}
	}
	root, err := b.run(ctx, "env", "GOROOT", "GOVERSION")
	if err != nil {
		return nil, err
	}
	goroot, version, _ := strings.Cut(strings.TrimSpace(string(root)), "\n")
	folders[module{"Go, its runtime and its library", strings.TrimSpace(version), strings.TrimSpace(goroot)}] = []string{strings.TrimSpace(goroot)}
	var all []Module
	for m, of := range folders {
		files, err := read(m.Dir, m.Path, of, b.Tests)
		if err != nil {
			return nil, fmt.Errorf("%s %s: %w", m.Path, m.Version, err)
		}
		all = append(all, Module{m.Path, m.Version, files})
	}
	slices.SortFunc(all, func(a, b Module) int { return strings.Compare(a.Path, b.Path) })
	return all, nil
}

func (b Build) run(ctx context.Context, args ...string) ([]byte, error) {
	c := exec.CommandContext(ctx, "go", args...)
	c.Dir, c.Env = b.Folder, append(os.Environ(), b.Env...)
	out, err := c.Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		return nil, fmt.Errorf("go %s: %w: %s", args[0], err, bytes.TrimSpace(exit.Stderr))
	}
	return out, err
}

var named = regexp.MustCompile(`(?i)^((un)?licen[cs]e|copying|notice|patents)([.-].*)?$|-licen[cs]e$`)

// elsewhere are files about parts of a module that are compiled in only with the packages below a
// folder. They are left out without them.
var elsewhere = map[string]string{
	"gonum.org/v1/gonum/THIRD_PARTY_LICENSES/W3C-BSD-LICENSE":       "graph/formats",
	"gonum.org/v1/gonum/THIRD_PARTY_LICENSES/W3C-TestSuite-LICENSE": "graph/formats",
}

// disclaimer is a file that grants nothing and asks nothing: the author of a method disclaims warranty for code
// that the module hands on under its own licence, which stands beside it.
const disclaimer = "gonum.org/v1/gonum/THIRD_PARTY_LICENSES/Bogaert-LICENSE"

// read returns the licences that stand at the root of a module, in THIRD_PARTY_LICENSES there,
// and in the folders from its packages up to the root.
func read(root, module string, packages []string, tests bool) ([]File, error) {
	folders := map[string]bool{".": true, "THIRD_PARTY_LICENSES": true}
	below := map[string]bool{}
	for _, p := range packages {
		inner, err := filepath.Rel(root, p)
		if err != nil {
			return nil, err
		}
		for f := filepath.ToSlash(inner); f != "." && !strings.HasPrefix(f, ".."); f = path.Dir(f) {
			folders[f], below[f] = true, true
		}
	}
	var files []File
	for folder := range folders {
		entries, err := os.ReadDir(filepath.Join(root, filepath.FromSlash(folder)))
		if errors.Is(err, os.ErrNotExist) {
			continue
		} else if err != nil {
			return nil, err
		}
		for _, e := range entries {
			name := path.Join(folder, e.Name())
			if !e.Type().IsRegular() || !named.MatchString(e.Name()) || strings.HasSuffix(name, ".go") {
				continue
			}
			if part, ok := elsewhere[module+"/"+name]; ok && !below[part] {
				continue
			}
			text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
			if err != nil {
				return nil, err
			}
			kind, err := Kind(text)
			if err != nil && strings.HasPrefix(strings.ToLower(e.Name()), "notice") {
				kind, err = "notice", nil // who wrote it; the terms stand beside it
			}
			if kind == mpl && tests {
				err = nil
			}
			if err != nil && module+"/"+name == disclaimer {
				kind, err = "disclaimer", nil
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			files = append(files, File{name, kind, text})
		}
	}
	grants := func(f File) bool {
		return f.Kind != "notice" && f.Kind != "disclaimer" && f.Kind != "patent grant"
	}
	if !slices.ContainsFunc(files, grants) {
		return nil, errors.New("it has no licence: whoever hands on a program with it has no right to do so")
	}
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return files, nil
}

// ErrNotPermissive reports a licence that is not known to allow what closefit does with a module:
// to hand it on as a part of programs under other licences.
var ErrNotPermissive = errors.New("not a licence that is known to be permissive")

// refused are words of licences that ask more than to be named, whatever else stands there.
var refused = []string{
	"general public license", "mozilla public license", "eclipse public license", "common development and distribution", "european union public",
	"server side public license", "business source license", "commons clause", "creative commons", "noncommercial", "non-commercial",
	"all advertising materials",
}

const bsd = "redistribution and use in source and binary forms, with or without modification, are permitted provided that the following conditions are met"

// permissive are the kinds that are allowed, with words that make a text that kind. The first that has
// all its words counts.
var permissive = []struct {
	kind  string
	words []string
}{
	{"Apache-2.0", []string{"apache license version 2.0, january 2004", "grant of copyright license"}},
	{"BSL-1.0", []string{"boost software license - version 1.0"}},
	{"MIT", []string{"permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files", "the above copyright notice and this permission notice shall be included in all copies"}},
	{"BSD-3-Clause", []string{bsd, "may be used to endorse or promote products derived from this software"}},
	{"BSD-2-Clause", []string{bsd, "redistributions in binary form must reproduce"}},
	{"ISC", []string{"permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted"}},
	{"SunPro", []string{"permission to use, copy, modify, and distribute this software is freely granted, provided that this notice is preserved"}},
	{"patent grant", []string{"additional ip rights grant (patents)", "no-charge, royalty-free, irrevocable"}},
}

const mpl = "MPL-2.0"

// Kind returns the name of a permissive licence by its words. Of those that are not permissive it knows
// MPL-2.0, and returns it with the error.
func Kind(text []byte) (string, error) {
	plain := strings.Join(strings.Fields(strings.ToLower(string(text))), " ")
	if strings.HasPrefix(plain, "mozilla public license version 2.0") {
		return mpl, fmt.Errorf("%w: %s asks for the source of what is handed on", ErrNotPermissive, mpl)
	}
	for _, words := range refused {
		if strings.Contains(plain, words) {
			return "", fmt.Errorf("%w: it speaks of %q", ErrNotPermissive, words)
		}
	}
	for _, p := range permissive {
		if !slices.ContainsFunc(p.words, func(w string) bool { return !strings.Contains(plain, w) }) {
			return p.kind, nil
		}
	}
	return "", fmt.Errorf("%w: it begins %q; read it, and add its words to permissive or leave the module out", ErrNotPermissive, plain[:min(80, len(plain))])
}

// Text returns the licences of all modules but closefit in one text, under a line that says what
// is compiled from them.
func Text(what string, all []Module) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s compiled from closefit and from what follows, each under its own licence.\n", what)
	rule := strings.Repeat("=", 78)
	for _, m := range all {
		if m.Path == Closefit {
			continue
		}
		fmt.Fprintf(&b, "\n%s\n%s %s (%s)\n%[1]s\n", rule, m.Path, m.Version, strings.Join(m.Kinds(), ", "))
		for _, f := range m.Files {
			fmt.Fprintf(&b, "\n-- %s\n\n%s\n", f.Name, bytes.TrimSpace(bytes.ReplaceAll(f.Text, []byte("\r\n"), []byte("\n"))))
		}
	}
	return b.Bytes()
}
