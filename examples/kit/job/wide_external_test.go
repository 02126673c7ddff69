package job_test

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/record"
)

// recorded reads and assesses a job that somebody could type, and writes its record. The job
// may be refused, if that names the file, the line and the key, and says what to write; but
// once it is read there is a record. It reports whether there is.
func recorded(t interface{ Fatalf(string, ...any) }, src string) bool {
	j, err := job.Read("job.toml", []byte(src))
	if err != nil {
		var errs tomlfile.Errors
		if !errors.As(err, &errs) {
			t.Fatalf("%v\n%s", err, src)
		}
		for _, e := range errs {
			if e.File == "" || e.Line == 0 || e.Path == "" || !strings.Contains(e.What, ";") {
				t.Fatalf("%v\n%s", e, src)
			}
		}
		return false
	}
	a, err := j.Assess(context.Background())
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	for _, format := range []record.Format{record.Text, record.JSON} {
		if err := record.Write(io.Discard, format, a); err != nil {
			t.Fatalf("%v\n%s", err, src)
		}
	}
	return true
}

// TestWideJobs: every job that somebody could honestly type gives a record, or is refused with
// what to write. Most of what is drawn gives one.
func TestWideJobs(t *testing.T) {
	made, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		all++
		if recorded(t, jobtest.Wide(t)) {
			made++
		}
	})
	if made*10 < all*8 {
		t.Errorf("%d of %d give a record", made, all)
	}
}
