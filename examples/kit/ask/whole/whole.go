package whole

import "example.com/closefit/examples/kit/ask"

// Questions returns all of them.
func Questions() ask.Set { return ask.Library() }
