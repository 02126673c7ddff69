package main

import (
	"bytes"
	"context"
	"debug/buildinfo"
	"errors"
	"fmt"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"

	"example.com/closefit/examples/kit/ask/npm"
	"example.com/closefit/examples/kit/licences"
)

// A commit is what the go command says of what it built from.
type commit struct {
	version string // v0.1.0, or a pseudo-version where the commit has no tag
	time    time.Time
}

// committed reads it from a program.
func committed(program string) (commit, error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return commit{}, err
	}
	is := map[string]string{}
	for _, s := range info.Settings {
		is[s.Key] = s.Value
	}
	if is["vcs.modified"] != "false" {
		return commit{}, errors.New("the checkout has changes that are not committed, or is none: run .ci/release, which makes a fresh one")
	}
	at, err := time.Parse(time.RFC3339, is["vcs.time"])
	return commit{info.Main.Version, at}, err
}

// build compiles the programs into a folder, with the modules inside.
func build(ctx context.Context, t target, folder string) error {
	return compile(ctx, t, folder, "-tags=embedded", "-ldflags=-s -w")
}

func compile(ctx context.Context, t target, folder string, options ...string) error {
	args := append([]string{"build", "-buildvcs=true", "-trimpath", "-o", folder + string(filepath.Separator)}, options...)
	for _, p := range programs() {
		args = append(args, "./examples/"+p)
	}
	_, err := run(ctx, t.environment(), "go", args...)
	return err
}

// environment is that of the go command, without what would change a build.
func (t target) environment() []string {
	return append(os.Environ(), "GOFLAGS=", "CGO_ENABLED=0", "GOOS="+t.system, "GOARCH="+t.processor, "GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT=")
}

// programs builds the archive of a system.
func (s *stage) programs(ctx context.Context, t target) error {
	fmt.Fprintf(os.Stderr, "== programs for %s\n", t)
	folder := filepath.Join(s.scratch, t.String())
	if err := build(ctx, t, folder); err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	var files []file
	var packages []string
	for _, p := range programs() {
		built := filepath.Join(folder, t.file(p))
		from, err := committed(built)
		if err != nil {
			return fmt.Errorf("%s: %w", p, err)
		}
		if s.version == "" {
			s.commit = from
		} else if s.commit != from {
			return fmt.Errorf("%s for %s is of %s, and others of %s: the checkout changed", p, t, from.version, s.version)
		}
		text, err := os.ReadFile(built)
		if err != nil {
			return err
		}
		files = append(files, file{t.file(p), true, text})
		packages = append(packages, "./examples/"+p)
	}
	besides, err := documents()
	if err != nil {
		return err
	}
	files = append(files, besides...)
	licensed, err := s.licensed(ctx, "The programs are", licences.Build{Env: t.environment(), Tags: "embedded"}, packages...)
	if err != nil {
		return err
	}
	files = append(files, licensed...)
	first, err := s.firstSteps(t.system)
	if err != nil {
		return err
	}
	name := s.name(t.String())
	return s.put(name+t.archive(), name, append(files, first))
}

// name is that of an archive without its ending, and of the folder in it.
func (s *stage) name(of string) string { return "closefit-" + s.version + "-" + of }

// licensed are the licence of closefit and those of the rest.
func (s *stage) licensed(ctx context.Context, what string, b licences.Build, packages ...string) ([]file, error) {
	all, err := licences.Of(ctx, b, packages...)
	if err != nil {
		return nil, err
	}
	for _, m := range all {
		if m.Path == licences.Closefit {
			return []file{{"LICENSE", false, m.Files[0].Text}, {"LICENSES-OF-OTHERS.txt", false, licences.Text(what, all)}}, nil
		}
	}
	return nil, errors.New("nothing of closefit is in it")
}

// documents are what somebody without Go and without the tree reads beside the programs.
func documents() ([]file, error) {
	var files []file
	for name, folder := range map[string]string{
		"KEYS-OF-JOBS.txt":  "examples/kit/job",
		"KEYS-OF-PLANS.txt": "examples/kit/files/planfile",
		"KEYS-OF-MAPS.txt":  "examples/sheetcheck/mapfile",
	} {
		parsed, err := parser.ParseFile(token.NewFileSet(), path.Join(folder, "doc.go"), nil, parser.ParseComments|parser.PackageClauseOnly)
		if err != nil {
			return nil, err
		}
		about := parsed.Doc.Text()
		if i := strings.Index(about, "\n# The file\n"); i >= 0 { // what stands before is for those who write Go
			about = about[i:]
		}
		files = append(files, file{name, false, bytes.TrimLeft(new(doc.Package).Text(about), "\n")})
	}
	copies := []string{"examples/conformance/QUESTIONS.md", "examples/shortblock/checkrecord.py", "examples/serve/openapi.json"}
	demonstrations, err := filepath.Glob("examples/kit/job/demo/*.toml")
	if err != nil || len(demonstrations) == 0 {
		return nil, errors.Join(err, errors.New("there are no demonstrations"))
	}
	for _, from := range append(copies, demonstrations...) {
		text, err := os.ReadFile(from)
		if err != nil {
			return nil, err
		}
		name := filepath.Base(from)
		if strings.HasSuffix(name, ".toml") {
			name = path.Join("demonstrations", name)
		}
		files = append(files, file{name, false, text})
	}
	return files, nil
}

// pages writes the archives of the bench page and of the lessons, made by the programs in a folder.
func (s *stage) pages(ctx context.Context, programs string) error {
	made := filepath.Join(s.scratch, "pages")
	bench, lessons := filepath.Join(made, "bench"), filepath.Join(made, "lessons")
	if err := errors.Join(os.MkdirAll(bench, 0o755), os.MkdirAll(lessons, 0o755)); err != nil {
		return err
	}
	if _, err := run(ctx, without, filepath.Join(programs, "bench"), "-o", filepath.Join(bench, "bench.html")); err != nil {
		return err
	}
	if _, err := run(ctx, without, filepath.Join(programs, "lessons"), "-o", lessons); err != nil {
		return err
	}
	for _, a := range []struct {
		of, folder string
		tags       string // of the module in it
	}{{"bench", bench, ""}, {"lessons", lessons, "lessons"}} {
		files, err := within(a.folder)
		if err != nil {
			return err
		}
		licensed, err := s.licensed(ctx, "The module in the pages is", licences.Build{Env: target{"wasip1", "wasm"}.environment(), Tags: a.tags}, "./examples/wasm")
		if err != nil {
			return err
		}
		first, err := s.firstSteps(a.of)
		if err != nil {
			return err
		}
		name := s.name(a.of)
		if err := s.put(name+".zip", name, append(append(files, licensed...), first)); err != nil {
			return err
		}
	}
	return nil
}

// javascript writes the package for JavaScript, as npm packs one.
func (s *stage) javascript(ctx context.Context) error {
	folder := filepath.Join(s.scratch, "javascript")
	if err := npm.Write(ctx, folder); err != nil {
		return err
	}
	files, err := within(folder)
	if err != nil {
		return err
	}
	const unreleased = `"version": "0.0.0"`
	numbered := false
	for i, f := range files {
		if f.name == "package.json" {
			numbered = strings.Count(string(f.text), unreleased) == 1
			files[i].text = []byte(strings.Replace(string(f.text), unreleased, fmt.Sprintf(`"version": %q`, strings.TrimPrefix(s.version, "v")), 1))
		}
	}
	if !numbered {
		return fmt.Errorf("package.json does not say %s", unreleased)
	}
	first, err := s.firstSteps("javascript")
	if err != nil {
		return err
	}
	return s.put(s.name("javascript")+".tgz", "package", append(files, first))
}

// within returns the files of a folder, all of which are read and none run.
func within(folder string) ([]file, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var files []file
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			return nil, err
		}
		files = append(files, file{e.Name(), false, text})
	}
	return files, nil
}
