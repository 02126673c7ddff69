package planfile

import (
	"fmt"
	"strings"
	"time"
)

// Bounds on a wait between two pulls, against a slip of the unit ("5ms").
const (
	shortestWait = time.Second
	longestWait  = 30 * 24 * time.Hour
)

// spelled are units of time as people write them out, by how Go's durations have them.
var spelled = map[string]string{
	"s": "s", "sec": "s", "secs": "s", "second": "s", "seconds": "s",
	"m": "m", "min": "m", "mins": "m", "minute": "m", "minutes": "m",
	"h": "h", "hr": "h", "hrs": "h", "hour": "h", "hours": "h",
}

// parseWait reads a time to wait.
func parseWait(s string) (time.Duration, error) {
	d, err := time.ParseDuration(s)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%q is no time to wait; %s", s, adviseWait(s))
	case d < shortestWait || d > longestWait:
		return 0, fmt.Errorf("%q is not between %s and %d days; look at its unit: s, m or h", s, shortestWait, longestWait/(24*time.Hour))
	}
	return d, nil
}

// adviseWait says what to write for a time that cannot be read: the same time where it can
// be told, else in full.
func adviseWait(s string) string {
	number := strings.TrimSpace(s)
	digits := strings.TrimLeft(number, "0123456789.,")
	number, unit := number[:len(number)-len(digits)], strings.ToLower(strings.Trim(digits, " ."))
	whole := strings.Replace(number, ",", ".", 1)
	if _, err := time.ParseDuration(whole + "s"); err != nil {
		return `write numbers with the units h, m and s, as in "1h30m"`
	}
	if unit == "" {
		return fmt.Sprintf("write %q or %q or %q, for seconds, minutes or hours", whole+"s", whole+"m", whole+"h")
	}
	if short, ok := spelled[unit]; ok {
		return fmt.Sprintf("write %q", whole+short)
	}
	return `write numbers with the units h, m and s, as in "1h30m"`
}
