package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/version"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// options are what the command line says.
type options struct {
	ledger, witness string
	job             bool
	phase           job.Phase // of a job
	format          string
	act             act
	value           string            // that the act was given
	with            map[string]string // what was said beside the act
	choose          []string
	shown           bool // the version is asked for

	name    string // of the plan's file
	text    []byte
	builtIn bool  // the file is the demonstration
	piped   bool  // the file is standard input
	beside  fs.FS // the folder that it lies in; nil if it lies in none
}

// An act is one thing that a call does.
type act struct {
	name, usage string   // of its option; `WORD` in the usage is what it takes, if it takes anything
	with        []string // the options that may stand beside it
	planAlone   bool     // it needs no ledger, and no name for its work
	run         func(*program) error
}

// takes reports whether the option of the act takes a value.
func (a act) takes() bool { return strings.Contains(a.usage, "`") }

// acts are all that a call may do. The first is done when nothing else is asked.
func acts() []act {
	all := []act{
		{run: atTerminal},
		{name: "next", usage: "say what is next, and record nothing", with: []string{"format"}, run: sayNext},
		{name: "plan", usage: "print the whole plan", planAlone: true, run: printPlan},
		{name: "meaning", usage: "print what the plan's numbers mean for the bolts, where the file says what they are", planAlone: true, run: printMeaning},
		{name: "history", usage: "print what the ledger records, and when it happened", run: printHistory},
		{name: "drawings", usage: "write a drawing of each part, in SVG, to `FOLDER`", run: writeDrawings},
		{name: "start", usage: "start the ledger: no, if none of its bolts was turned already; else \"`BOLT, BOLT`\", or all", with: []string{"against"}, run: start},
		{name: "takeover", usage: "take over what is there of the ledger, and record it: \"`NAME: REASON`\"", run: takeOver},
		{name: "revise", usage: "lay the plan, which was corrected, against the ledger: \"`NAME: REASON`\"", with: []string{"choose"}, run: revise},
		{name: "against", usage: "go on against the job's gate, and record it: \"`NAME: REASON`\"", run: goAgainst},
	}
	for _, e := range events {
		all = append(all, act{name: e.name, usage: "record that " + e.usage, with: e.with, run: func(c *program) error { return c.record(e) }})
	}
	return all
}

// besides are the options that say more of an act.
var besides = []struct{ name, usage string }{
	{"torque", "with -done: the `torque` that was reached"},
	{"angle", "with -done: the `angle` that was reached"},
	{"by", "with -done: who did it, by `NAME`"},
	{"set", "with -tool: the `torque` that it is set to"},
	{"certificate", "with -tool: the `ID` of its certificate"},
}

// parse reads the command line and the plan that it names, from standard input if that is "-".
func parse(args []string, stdin io.Reader, stderr io.Writer) (o options, err error) {
	flags := flag.NewFlagSet("torquewalk", flag.ContinueOnError)
	flags.SetOutput(io.Discard) // errors are said once, by run
	twice, empty := "", ""
	single := func(name, usage string, into *string) { // a value that is given once, and is not empty
		given := false
		flags.Func(name, usage, func(value string) error {
			if given {
				twice = name
			}
			if value == "" {
				empty = name
			}
			given, *into = true, value
			return nil
		})
	}
	phase := ""
	o.format = "text"
	single("ledger", "keep the ledger in `FILE`; else beside the plan, found by its work, or in the plan's name with .ledger at the end, or .trial.ledger", &o.ledger)
	single("witness", "keep the ledger's witness in `FOLDER`; else where the file says, or in the user's own", &o.witness)
	flags.BoolVar(&o.job, "job", false, "the file is a job file of shortblock, and its tightening the plan; its gate is asked before each step")
	flags.BoolVar(&o.shown, "version", false, version.Usage)
	single("phase", "the `phase` of the job: trial, or final if it is not said", &phase)
	single("format", "`form` of what -next says: text (if it is not said) or json, whose keys stand below", &o.format)
	o.with = map[string]string{}
	given := map[string]string{} // the acts
	all := acts()
	once := func(into map[string]string, name string) func(string) error {
		return func(value string) error {
			if _, there := into[name]; there {
				twice = name
			}
			into[name] = value
			return nil
		}
	}
	for _, a := range all[1:] {
		if a.takes() {
			flags.Func(a.name, a.usage, once(given, a.name))
		} else {
			flags.BoolFunc(a.name, a.usage, func(value string) error {
				if value != "true" {
					return fmt.Errorf("it takes no value; write -%s alone, or leave it out", a.name)
				}
				return once(given, a.name)(value)
			})
		}
	}
	for _, b := range besides {
		flags.Func(b.name, b.usage, once(o.with, b.name))
	}
	flags.Func("choose", "with -revise: what becomes of a bolt that differs, \"`BOLT: CHOICE`\"; once for each", func(text string) error {
		o.choose = append(o.choose, text)
		return nil
	})
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			usage(flags, stderr)
			return o, err
		}
		return o, fmt.Errorf("%w; -help shows what can be asked", err)
	}
	if o.shown && len(given)+len(o.with) > 0 {
		return o, errors.New("-version beside an act, which would not be done; write it alone")
	}
	if o.shown {
		return o, nil
	}
	if twice != "" {
		return o, fmt.Errorf("-%s is given twice; give it once, and one fact in each call", twice)
	}
	if empty != "" {
		return o, fmt.Errorf("-%s is given without a value; write one, or leave the option out", empty)
	}
	if o.act, o.value, err = o.chosen(all, given); err != nil {
		return o, err
	}
	switch {
	case o.format != "text" && o.format != "json":
		return o, fmt.Errorf("-format %q; write text or json", o.format)
	case !o.job && phase != "":
		return o, errors.New("a plan alone has no phases; give -job and a job file")
	case !o.job && (o.act.name == "against" || o.with["against"] != ""):
		return o, errors.New("a plan alone has no gate; give -job and a job file")
	}
	if o.phase = job.Final; phase == "trial" {
		o.phase = job.Trial
	} else if phase != "" && phase != "final" {
		return o, fmt.Errorf("-phase %q; write trial or final", phase)
	}
	return o, o.load(flags.Args(), stdin)
}

// chosen returns the one act that is asked for, and takes what was said beside it.
func (o *options) chosen(all []act, given map[string]string) (chosen act, value string, err error) {
	var asked []act
	for _, a := range all[1:] {
		if _, is := given[a.name]; is {
			asked = append(asked, a)
		}
	}
	chosen = all[0]
	for _, a := range asked {
		others := slices.DeleteFunc(slices.Clone(asked), func(b act) bool { return b.name == a.name || slices.Contains(a.with, b.name) })
		if len(others) == 0 {
			chosen, value = a, given[a.name]
		}
	}
	if len(asked) > 0 && chosen.name == "" {
		return chosen, "", fmt.Errorf("-%s and -%s: more than one thing asked at once; ask one at a time", asked[0].name, asked[1].name)
	}
	for _, a := range asked {
		if a.takes() && strings.TrimSpace(given[a.name]) == "" {
			form := strings.Split(a.usage, "`")[1]
			return chosen, "", fmt.Errorf("-%s is given without a value; write %s, as -help says of it", a.name, form)
		}
		if a.name != chosen.name {
			o.with[a.name] = given[a.name]
		}
	}
	for name := range o.with {
		if !slices.Contains(chosen.with, name) {
			return chosen, "", fmt.Errorf("-%s says nothing here; take it out, or see -help for what it stands beside", name)
		}
	}
	switch {
	case len(o.choose) > 0 && chosen.name != "revise":
		return chosen, "", errors.New("-choose without -revise; write -revise \"NAME: REASON\" with it")
	case o.format != "text" && chosen.name != "next":
		return chosen, "", errors.New("-format without -next; only what -next says has two forms")
	}
	return chosen, value, nil
}

// load reads the file that is named, or the demonstration.
func (o *options) load(files []string, stdin io.Reader) (err error) {
	switch len(files) {
	case 0:
		if o.job {
			return errors.New("-job without a file; name the job file")
		}
		o.name, o.text, o.builtIn = "demonstration.toml", demonstration, true
	case 1:
		o.piped = files[0] == "-"
		if o.name, o.text, err = tomlfile.Load(files[0], stdin); err != nil {
			return err
		}
		o.beside = tomlfile.Folder(files[0])
	default:
		return fmt.Errorf("%d plans (%s); name one, after the options", len(files), strings.Join(files, ", "))
	}
	switch {
	case o.piped && o.act.name == "":
		return errors.New("a walk reads its answers from standard input, and the plan comes from there: put the plan in a file, or ask for -plan or -next")
	case o.piped && o.ledger == "" && !o.act.planAlone:
		return errors.New("a plan from standard input has no name to call its ledger by; name that with -ledger FILE")
	}
	return nil
}

func usage(flags *flag.FlagSet, w io.Writer) {
	fmt.Fprint(w, `usage: torquewalk [options] [PLAN.toml]

Walks a tightening plan one pull at a time and keeps a ledger of it. Without an act it asks at
the terminal. Scripts start the ledger once, ask -next, record -begin ID before the wrench moves
and -done ID after, or what else happened: one fact in each call. With -job it asks the job's
gate before each step. Exit status 0: done, and the work may go on; 1: it may not; 2: the input
is wrong, or a file cannot be read or written. The engine maker's manual and licensed practice
come first.

`)
	flags.SetOutput(w)
	flags.PrintDefaults()
	fmt.Fprint(w, "\nWhat -next -format json writes, by key:\n\n", keys())
}

// A program is one run of it.
type program struct {
	options
	stdin  io.Reader
	stdout io.Writer

	plan     *torque.Plan
	bolts    walk.Bolts // what is known of them
	identity planfile.Identity
	end      string     // what follows the plan's end
	gate     *walk.Gate // of a job; nil of a plan alone

	work   ledger.Work // known once find was called, and likewise
	home   ledger.Home
	notice string // what to say of where the ledger was found
}

func (c *program) say(format string, args ...any) { fmt.Fprintf(c.stdout, format+"\n", args...) }

// read makes the plan.
func (c *program) read() error {
	if !c.job {
		file, err := planfile.Read(c.name, c.text)
		if err != nil {
			if _, other := job.ReadBeside(c.beside, c.name, c.text); other == nil {
				err = fmt.Errorf("%s is a job file of shortblock, and no plan; write -job before its name", c.name)
			}
			return err
		}
		c.plan, c.bolts, c.identity = file.Plan, file.Bolts, file.Identity
		return nil
	}
	j, err := job.ReadBeside(c.beside, c.name, c.text)
	if err != nil {
		if _, other := planfile.Read(c.name, c.text); other == nil {
			err = fmt.Errorf("%s is a plan, and no job file; leave -job out", c.name)
		}
		return err
	}
	if c.plan, c.end, err = walk.PlanOf(j, c.phase); err != nil {
		return fmt.Errorf("%s: %w", c.name, err)
	}
	c.identity, c.bolts = j.Identity(), j.KnownBolts(c.phase)
	c.gate = &walk.Gate{Phase: c.phase, Read: func() (*job.Job, error) {
		if c.piped {
			return job.ReadBeside(c.beside, c.name, c.text)
		}
		name, text, err := tomlfile.Load(c.name, nil) // as it is now
		if err != nil {
			return nil, err
		}
		return job.ReadBeside(c.beside, name, text)
	}}
	return nil
}

// notItself refuses the plan's own file as its ledger: to take that over would move the plan away.
func (c *program) notItself() error {
	if c.builtIn || c.piped {
		return nil
	}
	plan, err := os.Stat(c.name)
	if err != nil {
		return err
	}
	if at, err := os.Stat(c.ledger); err == nil && os.SameFile(at, plan) {
		return fmt.Errorf("-ledger %s is the file of the plan itself; name another one", c.ledger)
	}
	return nil
}

// find finds the ledger and the folder of its witness.
func (c *program) find() (err error) {
	assembly := ""
	if c.job {
		assembly = c.phase.String()
	}
	if c.work, err = c.identity.Work(assembly); err != nil {
		return err
	}
	if c.home.Witness = c.witness; c.witness == "" {
		if c.home.Witness, err = walk.WitnessOf(c.name, c.identity); err != nil {
			return err
		}
	}
	if c.home.Path = c.ledger; c.home.Path != "" {
		return c.notItself()
	}
	if c.builtIn { // it has no folder; whatever the current one is, its ledger is the same
		folder := filepath.Join(c.home.Witness, "demonstration")
		c.home.Path = filepath.Join(folder, c.name[:len(c.name)-len(".toml")]+".ledger")
		_ = os.MkdirAll(folder, 0o700) // a ledger that cannot be kept is said when it is started
		return nil
	}
	c.home.Path, c.notice, err = walk.Locate(walk.Usual(c.name, c.phase), c.work)
	return err
}
