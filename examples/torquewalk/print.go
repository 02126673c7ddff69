package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/closefit/examples/kit/drawing"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// printPlan prints the plan, and of a job what holds it and what follows. It asks for no ledger:
// bolts that are held may have been replaced since.
func printPlan(c *program) error {
	c.say("%s", c.plan.Text())
	if c.end != "" {
		c.say("%s\n", c.end)
	}
	for _, caution := range c.plan.Cautions() {
		c.say("! %s", caution)
	}
	if c.gate == nil {
		return nil
	}
	var l *ledger.Ledger
	if c.find() == nil { // what is held is held all the same where no ledger can be looked for
		if read, _, err := ledger.Read(c.home, c.work); err == nil && read.Plan.Digest() == c.plan.Digest() {
			l = read
		}
	}
	a, err := c.gate.Ask(l, torque.Step{})
	if err != nil {
		return err
	}
	for _, held := range a.Held {
		c.say("! HELD %s", held)
	}
	if !a.Gate.Open {
		c.say("! The gate before the %s is shut: %d not proven. -next lists them.", c.phase, len(a.Gate.Shut))
	}
	return nil
}

// printMeaning prints what the plan's numbers mean for the bolts, and then, once more, what should
// be answered before it is carried out.
func printMeaning(c *program) error {
	for _, w := range c.bolts.Meaning(c.plan) {
		c.say("%s", w.Text())
	}
	questions, _ := c.bolts.Questions(c.plan) // what was not compared stands with the numbers
	for _, question := range questions {
		c.say("? %s", question)
	}
	return nil
}

// printHistory prints everything that the ledger records, whatever the plan is now.
func printHistory(c *program) error {
	l, entries, err := ledger.Read(c.home, c.work)
	if l != nil {
		for _, said := range append([]string{c.notice}, l.Said...) {
			if said != "" {
				c.say("%s", said)
			}
		}
	}
	for _, line := range walk.History(entries) {
		c.say("%s", line)
	}
	return err
}

// writeDrawings writes a file for each part: the plan's drawings, or, once there is a
// ledger, those of what is done. A file that is there is left alone unless it is an earlier
// drawing of the same work.
func writeDrawings(c *program) error {
	drawings := drawing.Of(c.plan)
	switch l, _, err := ledger.Read(c.home, c.work); {
	case err == nil:
		drawings = drawing.OfLedger(l)
	case !errors.Is(err, ledger.ErrNotStarted):
		return err
	}
	mark := c.mark()
	for i, d := range drawings {
		path := filepath.Join(c.value, fmt.Sprintf("drawing-%d.svg", i+1))
		put := wholefile.Write
		switch there, err := os.ReadFile(path); {
		case errors.Is(err, fs.ErrNotExist):
			put = wholefile.Create
		case err != nil:
			return err
		case !strings.HasPrefix(string(there), mark):
			return fmt.Errorf("%s is there, and is no drawing of this work: nothing is written over it; name another folder, or move it", path)
		}
		if err := put(path, []byte(mark+d.SVG)); err != nil {
			return err
		}
		c.say("%s: %s", path, d.On)
	}
	return nil
}

// mark is the line that begins each drawing of a work, by which it is known again.
func (c *program) mark() string {
	sum := sha256.Sum256([]byte(c.work.String()))
	return fmt.Sprintf("<!-- drawing of a tightening, work %s -->\n", hex.EncodeToString(sum[:8]))
}
