package evidence

import (
	"errors"
	"math"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// fixtureChecks serve the made-up rows in testdata/fixture.
func fixtureChecks() map[string]Check {
	return map[string]Check{"sum": sum, "root": squareRoot, "kind": kind}
}

func sum(r *Row) (Result, error) {
	a, errA := r.Decimal("a")
	b, errB := r.Decimal("b")
	return Decimal(a.Add(b)), errors.Join(errA, errB, r.ExpectUnit("mm"))
}

func squareRoot(r *Row) (Result, error) {
	of, err := r.Float64("of")
	return Float64(math.Sqrt(of)), err
}

func kind(r *Row) (Result, error) {
	gap, err := r.Decimal("gap")
	if gap.IsNegative() {
		return Text("interference"), err
	}
	return Text("clearance"), err
}

func fixture() Package {
	return Package{Name: "fixture", Dir: "testdata/fixture", Checks: fixtureChecks(), Lookups: []string{"kind"}}
}

// written makes a package of evidence files with the given rows.
func written(t *testing.T, rowsOf map[string]string) Package {
	t.Helper()
	dir := t.TempDir()
	for name, rows := range rowsOf {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(Header+"\n"+rows), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return Package{Name: "made-up", Dir: dir, Checks: map[string]Check{}}
}

func TestEvaluateFixture(t *testing.T) {
	report, err := Evaluate(fixture())
	if err != nil {
		t.Fatal(err)
	}
	misprints := 0
	for _, o := range report.Outcomes {
		if o.Err != nil {
			t.Error(o.Err)
		}
		if o.Misprint {
			misprints++
		}
	}
	if len(report.Outcomes) != 10 || misprints != 2 {
		t.Errorf("%d rows with %d misprints, want 10 with 2", len(report.Outcomes), misprints)
	}
}

// Each row says by its tolerance how far a result may lie; both sides of each edge.
func TestTolerances(t *testing.T) {
	exactly := func(s string) Result { return Decimal(decimal.RequireFromString(s)) }
	tests := []struct {
		name, want, tolerance string
		got                   Result
		kind                  error // nil: agrees
	}{
		{"exact, equal", "2.50", "0", exactly("2.5"), nil},
		{"exact, off by a hair", "2.50", "0", exactly("2.5000000001"), ErrDisagrees},
		{"exact ratio", "0.125", "0.0", Rat(big.NewRat(1, 8)), nil},
		{"absolute, at the edge", "2.50", "0.02", exactly("2.48"), nil},
		{"absolute, beyond", "2.50", "0.02", exactly("2.4799"), ErrDisagrees},
		{"places, half up", "2.50", "places", exactly("2.495"), nil},
		{"places, half down", "2.50", "places", exactly("2.505"), nil},
		{"places, beyond", "2.50", "places", exactly("2.5051"), ErrDisagrees},
		{"places of fewer digits", "2.5", "places", exactly("2.5051"), nil},
		{"places of a whole number", "-3", "places", Rat(big.NewRat(-10, 3)), nil},
		{"places, wrong sign", "-3", "places", exactly("3"), ErrDisagrees},
		{"places of a power of ten", "1.2e3", "places", exactly("1249"), nil},
		{"places of a power of ten, beyond", "1.2e3", "places", exactly("1251"), ErrDisagrees},
		{"percent, at the edge", "-200", "1%", exactly("-202"), nil},
		{"percent, beyond", "-200", "1%", exactly("-202.001"), ErrDisagrees},
		{"float64 within", "1.414", "places", Float64(math.Sqrt2), nil},
		{"float64 beyond", "1.415", "places", Float64(math.Sqrt2), ErrDisagrees},
		{"float64 cannot be exact", "2.5", "0", Float64(2.5), ErrKind},
		{"not a number", "2.5", "1%", Float64(math.NaN()), ErrCheck},
		{"infinite", "2.5", "1%", Float64(math.Inf(1)), ErrCheck},
		{"text", "H7/g6", "0", Text("H7/g6"), nil},
		{"another text", "H7/g6", "0", Text("h7/g6"), ErrDisagrees},
		{"text that looks like a number", "8.80", "0", Text("8.8"), ErrDisagrees},
		{"text with a tolerance", "8.8", "1%", Text("8.8"), ErrKind},
		{"number for a text", "clearance", "0", exactly("1"), ErrKind},
		{"no result", "1", "0", Result{}, ErrCheck},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			row := oneRow(t, "a,given,,"+test.want+",,"+test.tolerance+",A book,published,")
			o := evaluate(row, func(*Row) (Result, error) { return test.got, nil })
			if !errors.Is(o.Err, test.kind) || (o.Err == nil) != (test.kind == nil) {
				t.Errorf("error %v, want kind %v", o.Err, test.kind)
			}
		})
	}
}

func TestDeviation(t *testing.T) {
	row := oneRow(t, "a,given,,2.50,,places,A book,published,")
	o := evaluate(row, func(*Row) (Result, error) { return Decimal(decimal.RequireFromString("2.497")), nil })
	if o.Deviation.Cmp(big.NewRat(3, 1000)) != 0 || o.Allowed.Cmp(big.NewRat(5, 1000)) != 0 {
		t.Errorf("deviation %s of %s, want 3/1000 of 1/200", o.Deviation, o.Allowed)
	}
}

func TestEvaluateRefusesRows(t *testing.T) {
	broken := errors.New("broken")
	tests := []struct {
		name  string
		check Check
		kind  error
		says  string
	}{
		{"unregistered", nil, ErrUnregistered, `"sum"`},
		{"unread input", func(r *Row) (Result, error) {
			_, err := r.Input("a")
			return Decimal(decimal.New(3, 0)), errors.Join(err, r.ExpectUnit("mm"))
		}, ErrUnread, ": b"},
		{"unread unit", func(r *Row) (Result, error) {
			_, errA := r.Input("a")
			_, errB := r.Input("b")
			return Decimal(decimal.New(3, 0)), errors.Join(errA, errB)
		}, ErrUnread, "(unit)"},
		{"another unit", func(r *Row) (Result, error) { return Decimal(decimal.New(3, 0)), r.ExpectUnit("in") }, ErrUnit, `"in"`},
		{"missing input", func(r *Row) (Result, error) {
			_, err := r.Input("c")
			return Result{}, err
		}, ErrInput, `"c"`},
		{"failing check", func(*Row) (Result, error) { return Result{}, broken }, broken, "failed to compute"},
		{"panicking check", func(*Row) (Result, error) { panic("2.5 has no unit") }, ErrCheck, "2.5 has no unit"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			o := evaluate(oneRow(t, "a,sum,a=1; b=2,3,mm,0,A book,published,"), test.check)
			if !errors.Is(o.Err, test.kind) {
				t.Fatalf("error %v, want kind %v", o.Err, test.kind)
			}
			if !strings.HasPrefix(o.Err.Error(), "f.csv:2: row a: ") || !strings.Contains(o.Err.Error(), test.says) {
				t.Errorf("error %q, want it placed and saying %q", o.Err, test.says)
			}
			if asMisprint := expectMisprint(o); !errors.Is(asMisprint.Err, test.kind) {
				t.Errorf("as a misprint: %v; a row that cannot be run is no misprint", asMisprint.Err)
			}
		})
	}
}

func TestMisprintThatAgrees(t *testing.T) {
	p := written(t, map[string]string{
		"table_misprints.csv": "a,sum,a=1; b=2,3.0,mm,places,A book,published,",
		"table.csv":           "b,sum,a=1; b=3,4.0,mm,places,A book,published,",
	})
	p.Checks["sum"] = sum
	report, err := Evaluate(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range report.Outcomes {
		if o.Misprint != errors.Is(o.Err, ErrAgrees) {
			t.Errorf("%s: misprint %v with error %v", o.Row.ID, o.Misprint, o.Err)
		}
	}
}

func TestEvaluateRefusesPackages(t *testing.T) {
	const row = "a,sum,a=1; b=2,3,mm,0,A book,published,"
	tests := []struct {
		name string
		rows map[string]string
		kind error
		says string
	}{
		{"no file", nil, ErrEmpty, "no .csv file"},
		{"bad file", map[string]string{"x.csv": "a,sum,,1,,0,,published,", "y.csv": row}, ErrMissing, "x.csv:2: row a"},
		{"id in two files", map[string]string{"x.csv": row, "y.csv": row}, ErrDuplicate, "x.csv:2"},
		{"check without a row", map[string]string{"x.csv": "a,other,,1,,0,A book,published,"}, ErrUnused, `"sum"`},
		{"check with a misprint alone", map[string]string{"misprints.csv": row}, ErrUnused, `"sum"`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := written(t, test.rows)
			p.Checks["sum"] = sum
			_, err := Evaluate(p)
			if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("error %v, want kind %v saying %q", err, test.kind, test.says)
			}
		})
	}
}

func TestEvaluateRefusesLookupsThatAreNoChecks(t *testing.T) {
	p := fixture()
	p.Lookups = []string{"kind", "kinds"}
	if _, err := Evaluate(p); !errors.Is(err, ErrUnregistered) || !strings.Contains(err.Error(), `"kinds"`) || strings.Contains(err.Error(), `"kind"`) {
		t.Errorf("error %v, want one about kinds alone", err)
	}
}

// TestRunFails runs this test binary again on evidence that disagrees, and expects
// the tests in it to fail and to say where.
func TestRunFails(t *testing.T) {
	const folder = "CLOSEFIT_DISAGREEING_EVIDENCE"
	if dir := os.Getenv(folder); dir != "" {
		Run(t, Package{Name: "disagreeing", Dir: dir, Checks: map[string]Check{"sum": sum, "root": squareRoot}})
		return
	}
	p := written(t, map[string]string{"x.csv": "bad,sum,a=1; b=2,4,mm,0,A book,published,\ngood,sum,a=1; b=3,4,mm,0,A book,published,"})
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), self, "-test.run=^TestRunFails$", "-test.v")
	cmd.Env = append(os.Environ(), folder+"="+p.Dir)
	out, err := cmd.CombinedOutput()
	if _, exited := errors.AsType[*exec.ExitError](err); !exited {
		t.Fatalf("the tests passed: %v\n%s", err, out)
	}
	for _, line := range []string{
		"--- FAIL: TestRunFails/disagreeing/bad",
		"--- PASS: TestRunFails/disagreeing/good",
		"x.csv:2: row bad: computed value disagrees with the source: computed 3, the source has 4 mm; off by 1.0 where 0 allows 0",
		`registered check has no row: "root"`,
	} {
		if !strings.Contains(string(out), line) {
			t.Errorf("output lacks %q:\n%s", line, out)
		}
	}
}
