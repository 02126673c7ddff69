//go:build !unix

package conform

import "os/exec"

// stopWithChildren does nothing here: only the program itself is stopped.
func stopWithChildren(*exec.Cmd) {}
