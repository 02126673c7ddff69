package whole_test

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/examples/kit/record"
)

// FuzzRecord: any text as a job, in any form, has a record or an error that names the file; and a
// record in JSON is one that is read.
func FuzzRecord(f *testing.F) {
	const small = "title = \"A pump\"\n[engine]\ncylinders = 1\nmains = 2\nthrust = \"1\"\nrings = [\"top ring\", \"second ring\"]\npassages = [\"main gallery\"]\n"
	f.Add(small, "json")
	f.Add(small, "text")
	f.Add(small+"[[tightening]]\ngroup = \"b\"\nbolts = [\"1\", \"2\"]\nstages = [{ torque = \"9 N·m\" }]\n", "html")
	f.Add("title = 3", "pdf")
	f.Fuzz(func(t *testing.T, source, format string) {
		var known whole.Format
		refused := known.UnmarshalText([]byte(format))
		if parsed, err := record.ParseFormat(format); (err == nil) != (refused == nil) || err == nil && string(parsed) != format {
			t.Fatalf("the form %q: %v, and %v", format, refused, err)
		}
		with, err := json.Marshal(map[string]any{"name": "x.toml", "source": source, "format": format, "film": false})
		if err != nil {
			t.Fatal(err)
		}
		doc, err := json.Marshal(map[string]any{"closefit": 1, "question": "record", "with": json.RawMessage(with)})
		if err != nil {
			t.Fatal(err)
		}
		var a struct {
			Answer *whole.Recorded `json:"answer"`
			Error  *ask.Refusal    `json:"error"`
		}
		reply := whole.Questions().Answer(t.Context(), doc)
		if err := json.Unmarshal(reply, &a); err != nil || (a.Answer == nil) == (a.Error == nil) {
			t.Fatalf("%.400q: %v", reply, err)
		}
		switch {
		case a.Error != nil:
			if a.Error.Kind != nil && *a.Error.Kind == ask.ErrBroken.Error() || a.Error.Message == "" {
				t.Errorf("%.400q", reply)
			}
		case refused != nil || a.Answer.Record == "":
			t.Errorf("a record in the form %q: %.80q", format, a.Answer.Record)
		case format == "json":
			if _, err := record.Read(strings.NewReader(a.Answer.Record)); err != nil {
				t.Errorf("the record cannot be read: %v", err)
			}
		}
	})
}
