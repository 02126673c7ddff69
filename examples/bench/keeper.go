package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/job"
)

// A keeper keeps a job: in its file, or, of a demonstration, in memory.
type keeper struct {
	path string // of the file; empty of a demonstration
	name string

	mu     sync.Mutex
	source bench.Source // as it was last read
	heard  map[chan string]bool
}

// newKeeper reads the job file of a name; without a name the demonstration.
func newKeeper(path string) (*keeper, error) {
	k := &keeper{heard: map[chan string]bool{}}
	if path == "" {
		text, err := job.Demonstration(job.DefaultDemonstration)
		if err != nil {
			return nil, err
		}
		k.name, k.source = job.DefaultDemonstration+".toml", bench.Source{Name: job.DefaultDemonstration + ".toml", Text: text}
		return k, nil
	}
	if path == "-" {
		return nil, errors.New("a job from standard input has no file to keep it in; name the file")
	}
	absolute, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	k.path, k.name = absolute, filepath.Base(path)
	_, err = k.read()
	return k, err
}

// read reads the job as it is now. What cannot be read as a job is an error, and the source is what it was.
func (k *keeper) read() (bench.Source, error) {
	if k.path == "" {
		return k.source, nil
	}
	_, text, err := tomlfile.Load(k.path, nil)
	if err != nil {
		return bench.Source{}, err
	}
	beside := &bench.Recorder{FS: os.DirFS(filepath.Dir(k.path)), Files: map[string]string{}}
	if _, err := job.ReadBeside(beside, k.name, text); err != nil {
		return bench.Source{}, err
	}
	k.source = bench.Source{Name: k.name, Text: text, Beside: beside.Files}
	return k.source, nil
}

// now returns the job as it is now.
func (k *keeper) now() (bench.Source, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.read()
}

// change changes the job as it is now, and writes it. Nothing else that this program does comes between; an
// editor that writes within the moment between the last look and the renaming of the file is not seen.
func (k *keeper) change(by func(bench.Source) ([]byte, bench.Change, error)) (bench.Source, bench.Change, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	now, err := k.read()
	if err != nil {
		return bench.Source{}, bench.Change{}, err
	}
	text, change, err := by(now)
	if err != nil {
		return bench.Source{}, bench.Change{}, err
	}
	if k.path != "" && !bytes.Equal(text, now.Text) {
		if _, again, err := tomlfile.Load(k.path, nil); err != nil || !bytes.Equal(again, now.Text) {
			return bench.Source{}, bench.Change{}, errors.Join(bench.ErrOther, err)
		}
		if err := wholefile.Write(k.path, text); err != nil {
			return bench.Source{}, bench.Change{}, err
		}
	}
	now.Text = text
	k.source = now
	k.tell(now.Revision())
	return now, change, nil
}

// tell tells all who listen of a revision. One that has not taken the last has it replaced.
func (k *keeper) tell(what string) {
	for to := range k.heard {
		select {
		case <-to:
		default:
		}
		to <- what
	}
}

// listen returns a channel of the job's revisions, until the context ends.
func (k *keeper) listen(ctx context.Context) <-chan string {
	to := make(chan string, 1)
	k.mu.Lock()
	k.heard[to] = true
	k.mu.Unlock()
	context.AfterFunc(ctx, func() {
		k.mu.Lock()
		defer k.mu.Unlock()
		delete(k.heard, to)
	})
	return to
}

// lookEvery is how often the file is looked at, for what an editor has written.
const lookEvery = 500 * time.Millisecond

// watch tells of what an editor wrote into the file, until the context ends.
func (k *keeper) watch(ctx context.Context) {
	if k.path == "" {
		return
	}
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	var last fs.FileInfo
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		is, err := os.Stat(k.path)
		if err != nil || last != nil && os.SameFile(last, is) && last.ModTime().Equal(is.ModTime()) && last.Size() == is.Size() {
			continue // a file that is gone for a moment is being written
		}
		last = is
		k.mu.Lock()
		if _, text, err := tomlfile.Load(k.path, nil); err == nil && !bytes.Equal(text, k.source.Text) {
			k.source.Text = text // so that it is told once, and what is wrong with it is said by who reads it
			k.tell(k.source.Revision())
		}
		k.mu.Unlock()
	}
}
