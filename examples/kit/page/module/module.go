// Package module is the library as a WebAssembly module, which loader.js of package page
// opens: a WASI preview 1 reactor, compiled from examples/wasm and made smaller by package shrink.
//
// A program that is started by go run, or built in the tree, compiles it with the go command.
// One that is to run without Go and without the tree is built with the module inside:
//
//	go run ./examples/wasm -embed
//	go build -tags embedded ./examples/bench
package module

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"example.com/closefit/examples/kit/page/module/shrink"
)

// A Module names one of the modules.
type Module string

const (
	Whole   Module = "whole"   // every question
	Lessons Module = "lessons" // those of the lessons: no job, no record
)

// Build returns the module as WebAssembly. It runs the go command, whose cache makes the second
// time quick, unless the module is embedded.
func Build(ctx context.Context, m Module) ([]byte, error) {
	if m != Whole && m != Lessons {
		return nil, fmt.Errorf("there is no module %q", string(m))
	}
	if text, err := embedded(m); text != nil || err != nil {
		return text, err
	}
	return compile(ctx, m)
}

// compile builds the module beside the one that was built before and puts it into its place,
// so that another program never reads half of one. The go command leaves a file that is up to
// date as it is.
func compile(ctx context.Context, m Module) ([]byte, error) {
	cache, err := os.UserCacheDir()
	if cache = filepath.Join(cache, "closefit"); err != nil || os.MkdirAll(cache, 0o755) != nil { // whoever has no home
		cache = filepath.Join(os.TempDir(), fmt.Sprintf("closefit-%d", os.Getuid()))
		if err := os.MkdirAll(cache, 0o700); err != nil {
			return nil, err
		}
	}
	folder, err := os.MkdirTemp(cache, "build-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	kept, fresh := filepath.Join(cache, string(m)+".wasm"), filepath.Join(folder, "closefit.wasm")
	if before, err := os.ReadFile(kept); err == nil {
		if err := os.WriteFile(fresh, before, 0o644); err != nil {
			return nil, err
		}
	}
	c := exec.CommandContext(ctx, "go", "build", "-buildmode=c-shared", "-trimpath", "-ldflags=-s -w", "-gcflags=all=-l", "-gcflags=math/...=", "-tags="+tag(m), "-o", fresh, program)
	c.Dir, c.Env = tree(), environment()
	if out, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build of examples/wasm: %w\n%s\nthe module is compiled from the tree of closefit; run this there, or build it with -tags embedded", err, bytes.TrimSpace(out))
	}
	text, err := os.ReadFile(fresh)
	if err != nil {
		return nil, err
	}
	if err := os.Rename(fresh, kept); err != nil {
		return nil, err
	}
	// A go command of another version may lay a module out otherwise. Then it stays as it is, which
	// answers the same.
	if small, err := shrink.Module(text); err == nil {
		text = small
	}
	return text, nil
}

const (
	closefit = "example.com/closefit"
	program  = closefit + "/examples/wasm"
)

func environment() []string {
	return append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=", "GOWASM=")
}

func tag(m Module) string {
	if m == Lessons {
		return "lessons"
	}
	return ""
}

// tree is a folder of the tree that this program was compiled from, or the present one if that
// is no longer there.
func tree() string {
	if _, file, _, ok := runtime.Caller(0); ok {
		if _, err := os.Stat(file); err == nil {
			return filepath.Dir(file)
		}
	}
	return "."
}

// Packed returns a module, or any text, packed by gzip as small as it gets.
func Packed(text []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(text); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Text returns a module as the text that loader.js opens in a file that stands alone: the
// base64 of what Packed returns.
func Text(module []byte) (string, error) {
	packed, err := Packed(module)
	return base64.StdEncoding.EncodeToString(packed), err
}

// Embed compiles the modules and packs them into the folder of this package, where the build with
// -tags embedded takes them from.
func Embed(ctx context.Context) error {
	for _, m := range []Module{Whole, Lessons} {
		text, err := compile(ctx, m)
		if err != nil {
			return err
		}
		packed, err := Packed(text)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(tree(), string(m)+".wasm.gz"), packed, 0o644); err != nil {
			return err
		}
	}
	return nil
}
