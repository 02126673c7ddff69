package conform

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
)

// TestLibrary asks the library everything, as Answer does for a program; in go test a quarter of it.
func TestLibrary(t *testing.T) {
	thorough.SkipRaced(t)
	all, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
	var vectors []Vector
	for i := 0; i < len(all); i += thorough.Every(4) {
		vectors = append(vectors, all[i])
	}
	var questions, answers bytes.Buffer
	e := json.NewEncoder(&questions)
	for _, v := range vectors {
		if err := e.Encode(v.asked()); err != nil {
			t.Fatal(err)
		}
	}
	if err := Answer(context.Background(), &questions, &answers); err != nil {
		t.Fatal(err)
	}
	r := newReport([]string{"the library"}, vectors)
	for line := range bytes.Lines(answers.Bytes()) {
		r.take(line)
	}
	r.finish()
	if !r.Passed {
		var b strings.Builder
		if err := r.Text(&b); err != nil {
			t.Fatal(err)
		}
		t.Error(b.String())
	}
}

// TestEnough: there is as much to ask as is promised, and each question of arithmetic is asked once.
func TestEnough(t *testing.T) {
	thorough.SkipRaced(t)
	vectors, err := Vectors()
	if err != nil {
		t.Fatal(err)
	}
	if len(vectors) < 5000 {
		t.Errorf("%d vectors, fewer than 5000", len(vectors))
	}
	seen := map[string]string{}
	for _, v := range vectors {
		if v.Source == "" || v.Harm == "" || len(v.Want) == 0 {
			t.Errorf("%s lacks its source, its harm or its answer", v.ID)
		}
		if len(v.Tolerance) > 0 && v.Why == "" {
			t.Errorf("%s has a tolerance without a reason", v.ID)
		}
		text := v.Topic + v.Kind + whole(v.Question)
		if v.Basis == Arithmetic && seen[text] != "" {
			t.Errorf("%s asks what %s asks", v.ID, seen[text])
		}
		if v.Basis == Arithmetic {
			seen[text] = v.ID
		}
	}
}
