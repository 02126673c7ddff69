package whole

import (
	"slices"

	"example.com/closefit/examples/kit/ask"
)

// Questions returns all of them.
func Questions() ask.Set {
	return slices.Concat(ask.Library(), ask.Set{
		ask.New("record", "Makes the build record of an engine from its job file, as text, HTML or JSON.", recording),
	})
}
