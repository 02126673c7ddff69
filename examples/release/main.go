// Release builds what is handed to people who have no Go: archives of the programs for each system,
// the bench page, the lessons, and the package for JavaScript. It builds what is committed in
// the checkout that it is run in; .ci/release runs it in a fresh one.
//
//	go run ./examples/release DIR
//
// Each archive holds its licences and a page of first steps. SHA256SUMS has the sum of each. Files
// carry the time of the commit, so one commit and one version of Go always give the same bytes.
// What this machine can run is unpacked and tried, without Go, against programs built in the tree. DIR
// must not exist; it is written whole or not at all.
//
// The exit status is 0 if DIR was written, and 2 otherwise.
package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path"
	"path/filepath"
	"runtime"
	"syscall"

	"example.com/closefit/examples/kit/page/module"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "release: write release DIR, a folder that does not exist yet")
		os.Exit(2)
	}
	if err := release(ctx, os.Args[1]); err != nil {
		fmt.Fprintf(os.Stderr, "release: %v\n", err)
		os.Exit(2)
	}
}

// programs are those that are handed on.
func programs() []string {
	return []string{"shortblock", "torquewalk", "sheetcheck", "bench", "lessons", "serve", "conformance"}
}

// A target is a system and a processor, as Go names them.
type target struct{ system, processor string }

func (t target) String() string { return t.system + "-" + t.processor }

func targets() []target {
	var all []target
	for _, system := range []string{"linux", "windows", "darwin"} {
		all = append(all, target{system, "amd64"}, target{system, "arm64"})
	}
	return all
}

// file returns the name of a program's file.
func (t target) file(program string) string {
	if t.system == "windows" {
		return program + ".exe"
	}
	return program
}

// archive returns the ending of the archive that the system's users open without a further program.
func (t target) archive() string {
	if t.system == "windows" {
		return ".zip"
	}
	return ".tar.gz"
}

// A stage is a release under way.
type stage struct {
	commit
	folder  string // that becomes DIR
	scratch string
	sums    bytes.Buffer
}

func release(ctx context.Context, dir string) (err error) {
	if _, err := os.Lstat(dir); !errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s is there already; name a folder that does not exist yet", dir)
	}
	s := stage{}
	if s.folder, err = os.MkdirTemp(filepath.Dir(filepath.Clean(dir)), ".release-"); err != nil {
		return err
	}
	defer os.RemoveAll(s.folder)
	if s.scratch, err = os.MkdirTemp("", "closefit-release-"); err != nil {
		return err
	}
	defer os.RemoveAll(s.scratch)

	fmt.Fprintln(os.Stderr, "== the modules that go into programs")
	if err := module.Embed(ctx); err != nil {
		return err
	}
	host := target{runtime.GOOS, runtime.GOARCH}
	for _, t := range targets() {
		if err := s.programs(ctx, t); err != nil {
			return err
		}
	}
	fmt.Fprintln(os.Stderr, "== pages and the package for JavaScript")
	own := filepath.Join(s.scratch, "own")
	if err := build(ctx, host, own); err != nil {
		return err
	}
	if err := s.pages(ctx, own); err != nil {
		return err
	}
	if err := s.javascript(ctx); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(s.folder, "SHA256SUMS"), s.sums.Bytes(), 0o644); err != nil {
		return err
	}
	if err := s.try(ctx, host); err != nil {
		return err
	}
	if err := os.Chmod(s.folder, 0o755); err != nil {
		return err
	}
	return os.Rename(s.folder, dir)
}

// put writes an archive, whose files lie in one folder, and its sum.
func (s *stage) put(name, folder string, files []file) error {
	for i := range files {
		files[i].name = path.Join(folder, files[i].name)
	}
	var text bytes.Buffer
	if err := pack(&text, name, s.time, files); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	fmt.Fprintf(&s.sums, "%x  %s\n", sha256.Sum256(text.Bytes()), name)
	return os.WriteFile(filepath.Join(s.folder, name), text.Bytes(), 0o644)
}

// run runs a command and returns what it writes to standard output. env is its whole environment;
// nil is that of this process.
func run(ctx context.Context, env []string, name string, args ...string) ([]byte, error) {
	c := exec.CommandContext(ctx, name, args...)
	c.Env = env
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("%v: %w\n%s", c, err, bytes.TrimSpace(stderr.Bytes()))
	}
	return out, nil
}
