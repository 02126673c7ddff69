package module

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Licences returns the licence of closefit, and those of all that is compiled into a module
// besides: the Go runtime with its library, and each module of the dependencies, with its
// version. It needs the go command. A dependency without a licence is an error.
func Licences(ctx context.Context, m Module) (own, others []byte, err error) {
	c := exec.CommandContext(ctx, "go", "list", "-deps", "-tags="+tag(m), "-f", "{{with .Module}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}", program)
	c.Dir, c.Env = tree(), environment()
	list, err := c.Output()
	if err != nil {
		return nil, nil, fmt.Errorf("go list of examples/wasm: %w", err)
	}
	root := exec.CommandContext(ctx, "go", "env", "GOROOT", "GOVERSION")
	root.Dir = c.Dir
	goroot, err := root.Output()
	if err != nil {
		return nil, nil, fmt.Errorf("go env GOROOT: %w", err)
	}
	folder, version, _ := strings.Cut(strings.TrimSpace(string(goroot)), "\n")
	lines := strings.Split(strings.TrimSpace(string(list)), "\n")
	slices.Sort(lines)
	lines = append(slices.Compact(lines), "Go, its runtime and its library\t"+version+"\t"+folder)
	var b bytes.Buffer
	b.WriteString("closefit.wasm is compiled from closefit and from what follows, each under its own licence.\n")
	for _, line := range lines {
		f := strings.Split(line, "\t")
		if len(f) != 3 {
			continue // the library of Go has no module
		}
		text, err := licence(f[2])
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", f[0], err)
		}
		if f[0] == closefit {
			own = text
			continue
		}
		fmt.Fprintf(&b, "\n%s\n%s %s\n%[1]s\n\n%[4]s", strings.Repeat("=", 78), f[0], f[1], text)
	}
	return own, b.Bytes(), nil
}

// licence returns the text of the licence in the folder of a module, with its notice if there
// is one.
func licence(folder string) ([]byte, error) {
	var text []byte
	for _, pattern := range []string{"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*"} {
		files, err := filepath.Glob(filepath.Join(folder, pattern))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			t, err := os.ReadFile(file)
			if err != nil {
				return nil, err
			}
			text = append(append(text, bytes.TrimSpace(t)...), '\n')
		}
	}
	if text == nil {
		return nil, fmt.Errorf("no licence in %s", folder)
	}
	return text, nil
}
