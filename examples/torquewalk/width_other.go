//go:build !linux && !darwin

package main

import "os"

// terminalWidth returns 0: this system is not asked.
func terminalWidth(*os.File) int { return 0 }
