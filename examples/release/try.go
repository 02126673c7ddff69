package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// without is an environment in which no other program is found, Go among them.
var without = []string{"PATH=/nonexistent"}

// emulators run programs for Linux of other processors, by the names that Debian gives them.
var emulators = map[string]string{"amd64": "qemu-x86_64-static", "arm64": "qemu-aarch64-static"}

// try unpacks what this machine can run, and holds what the programs say against programs that were built
// in the tree and compile their modules. What is not tried is said.
func (s *stage) try(ctx context.Context, host target) error {
	tree := filepath.Join(s.scratch, "tree")
	if err := compile(ctx, host, tree); err != nil {
		return err
	}
	want, err := answers(ctx, os.Environ(), nil, tree)
	if err != nil {
		return err
	}
	for _, t := range targets() {
		runner, can := runnerOf(host, t)
		if !can {
			fmt.Fprintf(os.Stderr, "== NOT TRIED: the programs for %s; this machine cannot run them\n", t)
			continue
		}
		fmt.Fprintf(os.Stderr, "== the programs for %s, tried\n", t)
		folder, err := s.unpacked(t.String(), t.archive())
		if err != nil {
			return err
		}
		got, err := answers(ctx, without, runner, folder)
		if err != nil {
			return err
		}
		for name, text := range want {
			if !bytes.Equal(got[name], text) {
				return fmt.Errorf("%s: %s is not that of the programs built in the tree", t, name)
			}
		}
		for _, p := range programs() {
			command := slices.Concat(runner, []string{filepath.Join(folder, p), "-version"})
			line, err := run(ctx, without, command[0], command[1:]...)
			if err != nil || !strings.HasPrefix(string(line), p+" of closefit, version "+s.version+",") {
				return fmt.Errorf("%s: %s -version says %q, %v", t, p, line, err)
			}
		}
	}
	if err := s.tryPages(want); err != nil {
		return err
	}
	return s.tryPackage(ctx)
}

// runnerOf says what runs the programs of a target here: nothing, an emulator, or nobody.
func runnerOf(host, t target) (runner []string, can bool) {
	if t == host {
		return nil, true
	}
	if t.system != "linux" || host.system != "linux" {
		return nil, false
	}
	emulator, err := exec.LookPath(emulators[t.processor])
	return []string{emulator}, err == nil
}

// unpacked unpacks an archive of the release, and returns the folder in it.
func (s *stage) unpacked(of, ending string) (string, error) {
	archive, err := os.Open(filepath.Join(s.folder, s.name(of)+ending))
	if err != nil {
		return "", err
	}
	defer archive.Close()
	files, err := unpack(archive)
	if err != nil {
		return "", err
	}
	top := filepath.Join(s.scratch, "unpacked", of)
	folder := ""
	for _, f := range files {
		to := filepath.Join(top, filepath.FromSlash(f.name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(to), 0o755), os.WriteFile(to, f.text, f.mode())); err != nil {
			return "", err
		}
		first, _, _ := strings.Cut(f.name, "/")
		folder = filepath.Join(top, first)
	}
	return folder, nil
}

// answers are what the programs of a folder write, by the name of what was asked. It runs in the tree.
func answers(ctx context.Context, env, runner []string, folder string) (map[string][]byte, error) {
	got := map[string][]byte{}
	call := func(program string, args ...string) []string {
		return slices.Concat(runner, []string{filepath.Join(folder, program)}, args)
	}
	written, err := os.MkdirTemp("", "closefit-answers-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(written)
	bench, lessons := filepath.Join(written, "bench.html"), filepath.Join(written, "lessons")
	const sheet = "examples/sheetcheck/testdata/layouts/arrays.seeded.xlsx"
	asked := map[string][]string{
		"the plan":                call("torquewalk", "-plan"),
		"what a plan means":       call("torquewalk", "-meaning"),
		"the report of a sheet":   call("sheetcheck", "-format", "json", sheet),
		"the sheet, as a page":    call("sheetcheck", "-format", "html", sheet),
		"the bench page":          call("bench", "-o", bench),
		"the lessons":             call("lessons", "-o", lessons),
		"the list of questions":   call("conformance", "-list"),
		"the report on a program": append(call("conformance", "-topics", "convert,judge", "--"), call("conformance", "-answer")...),
	}
	for _, demo := range []string{"lock-gate", "slate-saw", "ferry-winch", "dredger", "all-proven"} {
		for _, format := range []string{"text", "html", "json", "svg"} {
			asked["the record of "+demo+" as "+format] = call("shortblock", "-demo", demo, "-format", format)
		}
	}
	for name, command := range asked {
		if got[name], err = run(ctx, env, command[0], command[1:]...); err != nil {
			return nil, err
		}
	}
	pages, err := within(lessons)
	if err != nil {
		return nil, err
	}
	for _, f := range pages {
		got["lessons/"+f.name] = f.text
	}
	if got["bench.html"], err = os.ReadFile(bench); err != nil {
		return nil, err
	}
	got["an answer of serve"], err = served(ctx, env, call("serve", "-listen", "127.0.0.1:0"))
	return got, err
}

// served asks serve for a record, and stops it.
func served(ctx context.Context, env, command []string) (answer []byte, err error) {
	c := exec.CommandContext(ctx, command[0], command[1:]...)
	c.Env = env
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	defer func() {
		err = errors.Join(err, c.Process.Signal(os.Interrupt), c.Wait())
	}()
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		return nil, err
	}
	client := http.Client{Timeout: time.Minute}
	const question = `{"closefit": 1, "value": "1.8740..1.8747 in", "to": "mm", "round": "inward", "places": null}`
	reply, err := client.Post(strings.TrimSpace(address)+"v1/convert", "application/json", strings.NewReader(question))
	if err != nil {
		return nil, err
	}
	defer reply.Body.Close()
	if answer, err = io.ReadAll(reply.Body); err == nil && (reply.StatusCode != http.StatusOK || !bytes.Contains(answer, []byte("47.5996..47.6173 mm"))) {
		err = fmt.Errorf("serve answers %s: %s", reply.Status, answer)
	}
	return answer, err
}

// tryPages holds the pages in their archives against those that programs in the tree write.
func (s *stage) tryPages(want map[string][]byte) error {
	for of, prefix := range map[string]string{"bench": "", "lessons": "lessons/"} {
		text, err := os.ReadFile(filepath.Join(s.folder, s.name(of)+".zip"))
		if err != nil {
			return err
		}
		files, err := unzip(text)
		if err != nil {
			return err
		}
		pages := 0
		for _, f := range files {
			name := strings.TrimPrefix(f.name, s.name(of)+"/")
			if !strings.HasSuffix(name, ".html") {
				continue
			}
			pages++
			if !bytes.Equal(f.text, want[prefix+name]) {
				return fmt.Errorf("%s in the archive is not the page of the programs built in the tree", name)
			}
		}
		if pages == 0 {
			return fmt.Errorf("no page in the archive of %s", of)
		}
	}
	return nil
}

const script = `import { convert, record } from "closefit";
import fs from "node:fs";
const asked = { value: "1 in", to: "mm", round: "exact", places: null };
console.log((await convert(asked)).value);
const source = fs.readFileSync(process.argv[2], "utf8");
console.log((await record({ name: "all-proven.toml", source, format: "json", film: false })).proven);
`

// tryPackage installs the package for JavaScript in an empty folder, without a network, and uses it.
func (s *stage) tryPackage(ctx context.Context) error {
	npm, err := exec.LookPath("npm")
	node, err2 := exec.LookPath("node")
	if errors.Join(err, err2) != nil {
		fmt.Fprintln(os.Stderr, "== NOT TRIED: the package for JavaScript; there is no node, or no npm")
		return nil
	}
	fmt.Fprintln(os.Stderr, "== the package for JavaScript, tried")
	archive, err := filepath.Abs(filepath.Join(s.folder, s.name("javascript")+".tgz"))
	if err != nil {
		return err
	}
	folder := filepath.Join(s.scratch, "project")
	program := filepath.Join(folder, "try.mjs")
	if err := errors.Join(os.MkdirAll(folder, 0o755), os.WriteFile(program, []byte(script), 0o644)); err != nil {
		return err
	}
	if _, err := run(ctx, os.Environ(), npm, "install", "--offline", "--no-audit", "--no-fund", "--prefix", folder, archive); err != nil {
		return err
	}
	out, err := run(ctx, os.Environ(), node, program, "examples/kit/job/demo/all-proven.toml")
	if err == nil && string(out) != "25.4 mm\ntrue\n" {
		err = fmt.Errorf("the package for JavaScript says %q", out)
	}
	return err
}
