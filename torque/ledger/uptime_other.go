//go:build !linux

package ledger

// systemUptime does not know: waits across programs go by the clock of the machine.
func systemUptime() uptime { return uptime{} }
