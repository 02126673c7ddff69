package ledger

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Start makes the ledger of a work, and its witness, and opens it. turned names the bolts that
// have been turned already: each is in doubt from the beginning. It must not be nil, which
// would mean that nobody asked; empty means that none has been.
//
// The error is of kind ErrRefused where a file is there already or turned is nil, and
// ErrUnsure where a witness of the work is there, for then the work has been begun.
func Start(h Home, w Work, p *torque.Plan, turned []string) (*Ledger, error) {
	return start(machine{}, systemClock(), h, w, p, turned)
}

// Open opens the ledger of a work, and never makes one. p must be the plan that the ledger
// holds; nil takes whatever plan it holds, for Revise.
//
// What an ordinary crash leaves is mended, and Said says so. The error is of kind ErrNotStarted,
// ErrUnsure, ErrDamaged, ErrOtherWork, ErrOtherPlan, ErrLocked, or ErrStorage with the system's own
// error. With any of them but ErrStorage the files are as they were.
func Open(h Home, w Work, p *torque.Plan) (*Ledger, error) {
	return open(machine{}, systemClock(), h, w, p)
}

// TakeOver opens a ledger of which Open says ErrUnsure: what is there is taken over, on somebody's
// word, and recorded.
//
// Where the ledger lacks records that its witness has, they are put back. Where the ledger
// is gone or damaged, it is made again from its witness, and what was there is renamed. Where the
// witness is gone, damaged or older, the ledger stands. Where the two part, the ledger
// stands, and every bolt of which the witness has more is in doubt.
//
// The error is of kind ErrRefused if there is nothing to take over, and ErrDamaged if neither
// file can be read: then move both away and Start, naming the bolts that may have been turned.
func TakeOver(h Home, w Work, p *torque.Plan, word Word) (*Ledger, error) {
	return takeItOver(machine{}, systemClock(), h, w, p, word)
}

// Read returns a ledger as it stands and everything that it records, in the order it happened. It
// locks nothing and changes nothing, needs no plan, and another program may be using the ledger.
// Nothing can be recorded in what it returns. The errors are those of Open. Beside an ErrUnsure
// the ledger and its entries are returned all the same if the ledger itself can be read.
func Read(h Home, w Work) (*Ledger, []Entry, error) { return read(machine{}, h, w) }

// Find returns the paths of the ledgers of a work among the files of a folder, sorted. The error
// is of kind ErrStorage.
func Find(folder string, w Work) (paths []string, err error) { return find(machine{}, folder, w) }

// files are the files of a place that is opened.
type files struct {
	*place
	ledger, witness, fresh *side
	found
}

// openFiles opens what is there, and reads it.
func (p *place) openFiles(how opening) (*files, error) {
	f := &files{place: p,
		ledger:  &side{sys: p.sys, what: "the ledger", path: p.place().ledger},
		witness: &side{sys: p.sys, what: "its witness", path: p.witness()},
		fresh:   &side{sys: p.sys, what: "its new witness", path: p.fresh()}}
	for _, one := range []struct {
		*side
		chain *chain
	}{{f.ledger, &f.found.ledger}, {f.witness, &f.found.witness}, {f.fresh, &f.found.fresh}} {
		err := one.open(how)
		var data []byte
		if err == nil {
			data, err = one.read()
		}
		if err != nil {
			return nil, errors.Join(err, f.close())
		}
		*one.chain = linked(data, one.file != nil)
	}
	return f, nil
}

func (p *place) place() *place { return p }

func (f *files) close() error { return closeAll(f.ledger, f.witness, f.fresh) }

var _ = rand.Reader
var _ = hex.EncodeToString
var _ = bytes.Equal
var _ = json.Marshal
var _ = fmt.Sprint
var _ fs.FileInfo
var _ = filepath.Base
var _ = strings.Join
var _ time.Time
var _ units.Error

func start(sys system, c clock, h Home, w Work, p *torque.Plan, turned []string) (*Ledger, error) { panic("") }
func open(sys system, c clock, h Home, w Work, p *torque.Plan) (*Ledger, error) { panic("") }
func takeItOver(sys system, c clock, h Home, w Work, p *torque.Plan, word Word) (*Ledger, error) { panic("") }
func read(sys system, h Home, w Work) (*Ledger, []Entry, error) { panic("") }
func find(sys system, folder string, w Work) (paths []string, err error) { panic("") }
