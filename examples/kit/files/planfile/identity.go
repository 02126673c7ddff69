package planfile

import (
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// An Identity says which engine a plan is for and which of its builds, as a file says it. The
// ledger of the plan belongs to both, so that it is not taken for that of another engine with
// the same plan, or of the same engine a year later.
type Identity struct {
	Engine  string // which one it is: "lock gate engine 4711"; empty if the file does not say
	Build   string // which of its builds: "rebuild of autumn"; likewise
	Witness string // the folder that keeps the ledger's witness, from that of the file; likewise

	places   *tomlfile.Places
	engineAt string // the key that says the engine
	buildAt  string
}

// Identify takes an identity from a file, for files of one's own: what they say of engine and
// build, and the keys that say it.
func Identify(places *tomlfile.Places, engineAt, engine, buildAt, build, witness string) Identity {
	return Identity{said(engine), said(build), said(witness), places, engineAt, buildAt}
}

// said returns what a file says; nothing for what is open.
func said(text string) string {
	if strings.TrimSpace(text) == "?" {
		return ""
	}
	return text
}

// Work returns the work that a ledger of the plan belongs to, of an assembly that may be empty.
// The error names what the file does not say, each with its key and what to write.
func (i Identity) Work(assembly string) (ledger.Work, error) {
	var errs tomlfile.Errors
	for _, key := range []struct{ at, text, whose, what, example string }{
		{i.engineAt, i.Engine, "an engine", "which engine it is", "lock gate engine 4711"},
		{i.buildAt, i.Build, "a build", "which of its builds", "rebuild of autumn"},
	} {
		if strings.TrimSpace(key.text) != "" {
			if err := torque.CheckName(key.text, key.whose); err != nil {
				errs = append(errs, i.places.Wrap(key.at, err))
			}
			continue
		}
		name := key.at[strings.LastIndexByte(key.at, '.')+1:]
		errs = append(errs, i.places.Errorf(key.at, "%w, and a ledger belongs to one engine and one build of it; write %s, as in %s = %q",
			ErrMissing, key.what, name, key.example))
	}
	return ledger.Work{Engine: i.Engine, Build: i.Build, Assembly: assembly}, errs.Sorted()
}
