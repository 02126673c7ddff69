//go:build unix

package main

import "syscall"

// Some tests are about what other users may read, whatever whoever runs them keeps from others.
func init() { syscall.Umask(0o022) }
