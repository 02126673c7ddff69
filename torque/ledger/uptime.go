package ledger

import (
	"fmt"
	"strconv"
	"time"
)

// uptime says how long the machine has run since it was started, by a clock that nobody
// sets and that goes on while the machine sleeps. Boot names the start; it is empty where the
// system does not tell.
type uptime struct {
	Boot    string `json:"boot"`
	Seconds int64  `json:"up"`
}

// A clock tells the time. Tests have their own.
type clock struct {
	now func() time.Time
	up  func() uptime
}

// systemClock is the clock of the machine.
func systemClock() clock { return clock{time.Now, systemUptime} }

// check refuses what no system says.
func (u uptime) check() error {
	for _, r := range u.Boot {
		if r != '-' && (r < '0' || r > '9') && (r < 'a' || r > 'f') {
			return fault{kind: ErrRefused, found: "the start of a machine is named " + strconv.Quote(u.Boot), fix: "leave it out"}.err()
		}
	}
	if len(u.Boot) != 36 || u.Seconds < 0 {
		return fault{kind: ErrRefused, found: fmt.Sprintf("an uptime of %d s since the start %.40q", u.Seconds, u.Boot), fix: "leave it out"}.err()
	}
	return nil
}
