package evidence

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func oneRow(t *testing.T, line string) *Row {
	t.Helper()
	rows, err := load(strings.NewReader(Header+"\n"+line), "f.csv")
	if err != nil {
		t.Fatal(err)
	}
	return &rows[0]
}

func TestRowAccessors(t *testing.T) {
	r := oneRow(t, "a,sum,mu=0.120; teeth=31; hot=true,1,mm,0,A book,published,")
	if got := r.Unread(); !slices.Equal(got, []string{"mu", "teeth", "hot", "(unit)"}) {
		t.Errorf("unread at first: %q", got)
	}
	if d, err := r.Decimal("mu"); err != nil || d.StringFixed(3) != "0.120" {
		t.Errorf("mu = %v, %v", d, err)
	}
	if f, err := r.Float64("mu"); err != nil || f != 0.12 {
		t.Errorf("mu = %v, %v", f, err)
	}
	if n, err := r.Int("teeth"); err != nil || n != 31 {
		t.Errorf("teeth = %v, %v", n, err)
	}
	if !r.Has("hot") || r.Has("cold") {
		t.Error("Has is wrong")
	}
	if got := r.Unread(); !slices.Equal(got, []string{"hot", "(unit)"}) {
		t.Errorf("unread after two: %q", got)
	}
	if b, err := Parse(r, "hot", strconv.ParseBool); err != nil || !b {
		t.Errorf("hot = %v, %v", b, err)
	}
	if err := r.ExpectUnit("mm"); err != nil {
		t.Error(err)
	}
	if got := r.Unread(); got != nil {
		t.Errorf("unread at last: %q", got)
	}
	r.forget()
	if got := r.Unread(); len(got) != 4 {
		t.Errorf("unread after forgetting: %q", got)
	}
}

func TestRowAccessorErrors(t *testing.T) {
	r := oneRow(t, `a,sum,"mu=0,12; teeth=31.5",1,mm,0,A book,published,`)
	_, missing := r.Input("journal")
	_, comma := r.Decimal("mu")
	_, noFloat := r.Float64("mu")
	_, notWhole := r.Int("teeth")
	tests := []struct {
		name string
		err  error
		kind error
		says string
	}{
		{"missing", missing, ErrInput, `f.csv:2: row a: input cannot be read: no input "journal" among mu, teeth`},
		{"comma", comma, ErrInput, "mu=0,12"},
		{"no float", noFloat, ErrInput, "mu=0,12"},
		{"not whole", notWhole, strconv.ErrSyntax, "teeth=31.5"},
		{"unit", r.ExpectUnit("in"), ErrUnit, `"mm"`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if !errors.Is(test.err, test.kind) || !strings.Contains(test.err.Error(), test.says) {
				t.Errorf("error %v, want kind %v saying %q", test.err, test.kind, test.says)
			}
		})
	}
}

func TestReadIn(t *testing.T) {
	tests := []struct{ source, work string }{
		{"A book; table 1; read in a copy (page 3) and a list", "a copy (page 3) and a list"},
		{"A book; read in a copy", "a copy"},
		{"A book; table 1; row 2", ""},
		{"A book read in a copy", ""},
		{"A book; read in a copy; table 1", ""},
	}
	for _, test := range tests {
		if got := (&Row{Source: test.source}).ReadIn(); got != test.work {
			t.Errorf("%q was read in %q, want %q", test.source, got, test.work)
		}
	}
}
