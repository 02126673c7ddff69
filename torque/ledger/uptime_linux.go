package ledger

import (
	"os"
	"strings"
	"syscall"
)

// systemUptime asks the kernel.
func systemUptime() uptime {
	boot, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if err != nil {
		return uptime{}
	}
	var info syscall.Sysinfo_t
	if err := syscall.Sysinfo(&info); err != nil {
		return uptime{}
	}
	up := uptime{strings.TrimSpace(string(boot)), int64(info.Uptime)}
	if up.check() != nil {
		return uptime{}
	}
	return up
}
