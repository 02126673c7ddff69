package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
)

// patience is how long the work may take before a bar is shown.
const patience = time.Second

// A progress shows on a terminal how many rows are read, once the work is long.
type progress struct {
	terminal io.Writer // nil if standard error is none
	begun    time.Time
	bar      *progressbar.ProgressBar
}

func newProgress(stderr io.Writer) *progress {
	p := &progress{begun: time.Now()}
	if f, ok := stderr.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			p.terminal = stderr
		}
	}
	return p
}

func (p *progress) rows(n int) {
	if p.terminal == nil || time.Since(p.begun) < patience {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(-1,
			progressbar.OptionSetWriter(p.terminal),
			progressbar.OptionSetDescription("rows read"),
			progressbar.OptionShowCount(),
			progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish())
	}
	_ = p.bar.Set(n) // a bar that cannot be drawn is no reason to stop
}

func (p *progress) finish() {
	if p.bar != nil {
		_ = p.bar.Finish()
	}
}
