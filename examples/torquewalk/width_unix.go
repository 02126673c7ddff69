//go:build linux || darwin

package main

import (
	"os"
	"syscall"
	"unsafe"
)

// terminalWidth returns how many columns the terminal has; 0 if it does not say, or if
// file is none.
func terminalWidth(file *os.File) int {
	var size struct{ rows, columns, width, height uint16 }
	_, _, errno := syscall.Syscall(syscall.SYS_IOCTL, file.Fd(), syscall.TIOCGWINSZ, uintptr(unsafe.Pointer(&size)))
	if errno != 0 {
		return 0
	}
	return int(size.columns)
}
