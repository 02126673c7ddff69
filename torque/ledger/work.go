package ledger

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A Work is what a ledger belongs to. Two works whose names differ by case or blanks alone are
// the same work.
type Work struct {
	Engine   string `json:"engine"`   // "lock gate engine 4711"; must not be empty
	Build    string `json:"build"`    // "rebuild of autumn"; must not be empty
	Assembly string `json:"assembly"` // "trial assembly", "final assembly"; empty for a plan alone
}

// UnmarshalJSON reads {"engine":…,"build":…,"assembly":…}.
func (w *Work) UnmarshalJSON(data []byte) error {
	type work Work
	var read work
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	*w = Work(read)
	return nil
}

// String returns the names that are said, with commas between them.
func (w Work) String() string {
	parts := []string{w.Engine, w.Build}
	if w.Assembly != "" {
		parts = append(parts, w.Assembly)
	}
	return strings.Join(parts, ", ")
}

// check returns why w is no work.
func (w Work) check() error {
	names := []struct{ name, what, example string }{
		{w.Engine, "the engine of a work", `"lock gate engine 4711"`},
		{w.Build, "the build of a work", `"rebuild of autumn"`},
		{w.Assembly, "the assembly of a work", `"final assembly"`},
	}
	for i, n := range names {
		if n.name == "" && i == len(names)-1 {
			continue
		}
		if err := torque.CheckName(n.name, n.what); err != nil {
			e := err.(*units.Error)
			return fault{kind: ErrRefused, found: e.Found, fix: e.Fix + ", as in " + n.example}.err()
		}
	}
	return nil
}

// key is the same for two works that are one, and for no others.
func (w Work) key() string {
	return torque.Folded(w.Engine) + "\n" + torque.Folded(w.Build) + "\n" + torque.Folded(w.Assembly)
}

// witnessName is the name of the work's witness in its folder.
func (w Work) witnessName() string {
	sum := sha256.Sum256([]byte(w.key()))
	return hex.EncodeToString(sum[:8]) + ".witness"
}

// json returns the work as the ledger writes it.
func (w Work) json() []byte {
	text, err := json.Marshal(w)
	if err != nil {
		panic("ledger: " + err.Error()) // three texts
	}
	return text
}
