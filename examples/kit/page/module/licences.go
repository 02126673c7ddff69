package module

import (
	"context"
	"errors"

	"example.com/closefit/examples/kit/licences"
)

// Licences returns the licence of closefit, and those of all that is compiled into a module
// besides: the Go runtime with its library, and each module of the dependencies, with its
// version. It needs the go command and the tree. A dependency without a permissive licence is an error.
func Licences(ctx context.Context, m Module) (own, others []byte, err error) {
	all, err := licences.Of(ctx, licences.Build{Folder: tree(), Env: environment(), Tags: tag(m)}, program)
	if err != nil {
		return nil, nil, err
	}
	for _, l := range all {
		if l.Path == closefit {
			return l.Files[0].Text, licences.Text("closefit.wasm is", all), nil
		}
	}
	return nil, nil, errors.New("the module is not compiled from closefit")
}
