package main

import (
	"errors"
	"flag"
	"io"
	"slices"
	"strings"
	"testing"
)

// FuzzCommand: any line of options, with any plan on standard input, asks for one act of those there
// are, or is refused in words; and the plan that it names is read or refused with its name.
func FuzzCommand(f *testing.F) {
	const plan = "title = \"x\"\nengine = \"e\"\nbuild = \"b\"\nassembly = \"a\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\", \"b\"]\nuse = \"single use\"\nstages = [{ torque = \"1..2 N·m\" }, { turn = \"90°\" }]\n"
	for _, line := range []string{"-plan", "-next\n-ledger\nx", "-meaning", "-done\n3 1L\n-torque\n20 N·m\n-ledger\nx", "-takeover\na: b\n-ledger\nx", "-job\n-phase\ntrial\n-next\n-ledger\nx", "-history\n-history", "-choose\na: keep\n-revise\na: b\n-ledger\nx", "-format\njson"} {
		f.Add(line, plan)
	}
	f.Add("-plan", string(demonstration))
	known := acts()
	f.Fuzz(func(t *testing.T, line, plan string) {
		args := append(strings.Split(line, "\n"), "-")
		flags := 0
		for _, a := range args[:len(args)-1] {
			if !strings.HasPrefix(a, "-") && (flags == 0 || !strings.HasPrefix(args[flags-1], "-")) {
				return // it would name a file of this machine
			}
			flags++
		}
		o, err := parse(args, strings.NewReader(plan), io.Discard)
		if err != nil {
			if !errors.Is(err, flag.ErrHelp) && err.Error() == "" {
				t.Errorf("%q is refused without a word", line)
			}
			return
		}
		if !slices.ContainsFunc(known, func(a act) bool { return a.name == o.act.name }) {
			t.Errorf("%q asks for %q", line, o.act.name)
		}
		if !o.piped {
			return // a value that is no flag ended the options
		}
		c := &program{options: o, stdout: io.Discard}
		if err := c.read(); err != nil && !strings.Contains(err.Error(), "standard input") {
			t.Errorf("%q: %v does not name what it read", line, err)
		}
	})
}
