package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// A Home is where a ledger and its witness are kept.
type Home struct {
	Path    string // the ledger's file
	Witness string // the folder of the witnesses of all ledgers, which must not be the ledger's own: see WitnessFolder
}

// WitnessFolder returns the usual folder of witnesses, "closefit" in the folder where
// the system keeps the state of a user's programs: $XDG_STATE_HOME, or ~/.local/state if that is
// not set; ~/Library/Application Support on macOS; %LOCALAPPDATA% on Windows. It need not be
// there. The error is of kind ErrStorage.
//
// Source: XDG Base Directory Specification 0.8, "Environment variables": a relative
// path is ignored.
func WitnessFolder() (string, error) {
	folder, err := stateFolder(runtime.GOOS, os.Getenv, os.UserHomeDir)
	if err != nil {
		return "", fault{kind: fmt.Errorf("%w: %w", ErrStorage, err), found: "the folder of the user's state is not known", fix: "name a folder for the witnesses"}.err()
	}
	return filepath.Join(folder, "closefit"), nil
}

// stateFolder returns the folder where a system keeps the state of a user's programs.
func stateFolder(system string, env func(string) string, home func() (string, error)) (string, error) {
	switch system {
	case "windows":
		if folder := env("LOCALAPPDATA"); folder != "" {
			return folder, nil
		}
		return "", errors.New("%LOCALAPPDATA% is not set")
	case "plan9", "js", "wasip1":
		return os.UserConfigDir()
	}
	if folder := env("XDG_STATE_HOME"); system != "darwin" && system != "ios" && filepath.IsAbs(folder) {
		return folder, nil
	}
	at, err := home()
	if err != nil {
		return "", err
	}
	if system == "darwin" || system == "ios" {
		return filepath.Join(at, "Library", "Application Support"), nil
	}
	return filepath.Join(at, ".local", "state"), nil
}

// An abode is a home of one work: the paths of its files.
type abode struct {
	sys    system
	work   Work
	named  string // the ledger's path as it was given
	path   string // the same, from the root
	folder string // of the witness
}

// abodeOf returns the abode of a work in a home.
func (h Home) abodeOf(sys system, w Work) (*abode, error) {
	refuse := func(found, fix string) (*abode, error) {
		return nil, fault{kind: ErrRefused, path: h.Path, found: found, fix: fix}.err()
	}
	if err := w.check(); err != nil {
		return nil, err
	}
	usual, err := WitnessFolder()
	if err != nil {
		usual = "a folder"
	}
	switch {
	case h.Path == "":
		return refuse("no path for the ledger", `name its file, as in "short-block.ledger"`)
	case h.Witness == "":
		return refuse("no folder for the ledger's witness", "name one that is not the ledger's own; the usual one is "+usual)
	}
	p := &abode{sys: sys, work: w, named: h.Path}
	for _, path := range []struct {
		given string
		abs   *string
	}{{h.Path, &p.path}, {h.Witness, &p.folder}} {
		if *path.abs, err = filepath.Abs(path.given); err != nil {
			return nil, withPath(path.given, storage("the current folder is not known", err))
		}
	}
	own := filepath.Dir(p.path)
	same := own == p.folder
	var infos []fs.FileInfo
	for _, folder := range []string{own, p.folder} {
		info, err := sys.stat(folder)
		switch {
		case err == nil:
			infos = append(infos, info)
		case !errors.Is(err, fs.ErrNotExist):
			return nil, withPath(folder, storage("the folder cannot be looked at", err))
		}
	}
	if len(infos) == 2 {
		same = same || sys.sameFile(infos[0], infos[1])
	}
	if same {
		return refuse(fmt.Sprintf("the folder of the witness, %s, is the ledger's own: what happens to one would happen to both", h.Witness), "name another; the usual one is "+usual)
	}
	return p, nil
}

func (p *abode) witness() string { return filepath.Join(p.folder, p.work.witnessName()) }

// fresh is the path of the witness that Start and TakeOver write before anything else.
func (p *abode) fresh() string { return p.witness() + ".new" }

// torn is the path of the file that torn lines are moved to.
func (p *abode) torn() string { return p.path + ".torn" }
