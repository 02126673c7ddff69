//go:build unix

package conform

import (
	"os/exec"
	"syscall"
)

// stopWithChildren makes a command that is stopped take the programs that it started with it.
func stopWithChildren(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
}
