package mapfile

import (
	"context"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// Draft proposes a map.
func Draft(ctx context.Context, name string, f sheet.File) (string, error) { return "", nil }
