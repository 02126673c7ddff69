//go:build embedded

package module

import (
	"bytes"
	"compress/gzip"
	"embed"
	"io"
)

//go:embed whole.wasm.gz lessons.wasm.gz
var files embed.FS

func embedded(m Module) ([]byte, error) {
	packed, err := files.ReadFile(string(m) + ".wasm.gz")
	if err != nil {
		return nil, err
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
