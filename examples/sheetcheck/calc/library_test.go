package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestLibraryDiffers: where the workbook library gives something else, one by one.
// anyFormula leaves these out.
func TestLibraryDiffers(t *testing.T) {
	for _, test := range []struct{ formula, own, library, why string }{
		{"ABS(1/0)", "#DIV/0!", "0", "its functions of numbers make 0 of an error"},
		{"AND(1/0,TRUE)", "#DIV/0!", "TRUE", "it leaves the error out"},
		{"ROUNDDOWN(1,2)", "1", "0.99", "1 has no places to lose"},
		{"TRUNC(0.01,1)", "0", "0.01", "its one place is 0"},
		{"ABS((1/(1+ABS(A1))))", "1", "0", "it loses its place in brackets that hold a function, within the arguments of another"},
		{"ODD(0.1)", "1", "3", "the odd number next above 0.1 is 1"},
		{"EXP(1000)", "#NUM!", "+INF", "no binary64 is so large: an office program gives an error"},
	} {
		f := excelize.NewFile(excelize.Options{RawCellValue: true})
		defer f.Close()
		if err := f.SetCellFormula("Sheet1", "D4", test.formula); err != nil {
			t.Fatal(err)
		}
		library, _ := f.CalcCellValue("Sheet1", "D4")
		g := newGrid("Sheet1")
		g.put("Sheet1", "D4", "="+test.formula)
		p, err := evaluated(t, g, "Sheet1", "D4")
		if err != nil || p.Binary.String() != test.own || library != test.library {
			t.Errorf("%s is %s, %v, and %q by the library; want %s and %q: %s", test.formula, p.Binary, err, library, test.own, test.library, test.why)
		}
	}
}

// anyFormula draws formulas of functions that the workbook library has too, one deep.
func anyFormula() *rapid.Generator[string] {
	cell := rapid.SampledFrom([]string{"A1", "A2", "A3", "B1", "B2", "B3", "$A$1"})
	area := rapid.SampledFrom([]string{"A1:A3", "B1:B3", "A1:B3", "A2:B2"})
	var number, logic, words func(deep int) *rapid.Generator[string]
	one := func(t *rapid.T, g *rapid.Generator[string]) string { return g.Draw(t, "part") }
	number = func(deep int) *rapid.Generator[string] {
		return rapid.Custom(func(t *rapid.T) string {
			if deep == 0 {
				if rapid.Bool().Draw(t, "cell") {
					return one(t, cell)
				}
				return decimalText(t, 4, 3)
			}
			n := number(deep - 1)
			switch rapid.IntRange(0, 15).Draw(t, "kind") {
			case 0, 1, 2, 3:
				op := rapid.SampledFrom([]string{"+", "-", "*", "/"}).Draw(t, "op")
				if op == "/" {
					return one(t, n) + "/7.3"
				}
				return one(t, n) + op + one(t, n)
			case 4:
				return rapid.SampledFrom([]string{"SUM", "AVERAGE", "MIN", "MAX", "COUNT", "COUNTA", "PRODUCT", "SUMSQ", "MEDIAN", "STDEV", "VAR"}).Draw(t, "fn") + "(" + one(t, area) + ")"
			case 5:
				return "IF(" + one(t, logic(deep-1)) + "," + one(t, n) + "," + one(t, n) + ")"
			case 6:
				return rapid.SampledFrom([]string{"ROUND", "ROUNDUP"}).Draw(t, "fn") + "(" + one(t, n) + "," + strconv.Itoa(rapid.IntRange(-1, 4).Draw(t, "places")) + ")"
			case 7:
				return rapid.SampledFrom([]string{"ABS", "SIGN", "INT", "EVEN", "ATAN", "COS"}).Draw(t, "fn") + "(" + one(t, n) + ")"
			case 8:
				return "SUMPRODUCT(A1:A3,B1:B3)"
			case 9:
				return "SUMIF(" + one(t, rapid.Just("A1:A3")) + `,">` + strconv.Itoa(rapid.IntRange(0, 40).Draw(t, "least")) + `",B1:B3)`
			case 10:
				return "INDEX(A1:B3," + strconv.Itoa(rapid.IntRange(1, 3).Draw(t, "row")) + "," + strconv.Itoa(rapid.IntRange(1, 2).Draw(t, "column")) + ")"
			case 11:
				return "IFERROR(" + one(t, n) + rapid.SampledFrom([]string{"", "/0"}).Draw(t, "by") + "," + one(t, n) + ")"
			case 12:
				return "LEN(" + one(t, words(deep-1)) + ")"
			case 13:
				return "MOD(" + one(t, n) + "," + strconv.Itoa(rapid.IntRange(1, 9).Draw(t, "by")) + ")"
			case 14:
				return "SQRT(ABS(" + one(t, n) + "))"
			}
			return "-" + one(t, n)
		})
	}
	logic = func(deep int) *rapid.Generator[string] {
		return rapid.Custom(func(t *rapid.T) string {
			n := number(deep)
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				return "AND(" + one(t, n) + ">1," + one(t, n) + "<9)"
			case 1:
				return "NOT(" + one(t, n) + ">=2)"
			case 2:
				return "ISNUMBER(" + one(t, n) + ")"
			}
			return one(t, n) + rapid.SampledFrom([]string{"<", "<=", ">", ">=", "=", "<>"}).Draw(t, "op") + one(t, n)
		})
	}
	words = func(deep int) *rapid.Generator[string] {
		return rapid.Custom(func(t *rapid.T) string {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				return `LEFT("journal",` + strconv.Itoa(rapid.IntRange(0, 9).Draw(t, "n")) + ")"
			case 1:
				return `UPPER("low")&"-"`
			case 2:
				return `SUBSTITUTE("a-b-c","-","+")`
			}
			return `MID("main bearing",` + strconv.Itoa(rapid.IntRange(1, 9).Draw(t, "n")) + ",3)"
		})
	}
	return rapid.OneOf(number(1), logic(0), words(1), rapid.Custom(func(t *rapid.T) string {
		return one(t, number(1)) + rapid.SampledFrom([]string{"+", "-", "*"}).Draw(t, "op") + one(t, number(1))
	}))
}

// TestLikeLibrary: the workbook library's own evaluation gives the same.
func TestLikeLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := excelize.NewFile(excelize.Options{RawCellValue: true})
		defer f.Close()
		g := newGrid("Sheet1")
		for _, at := range []string{"A1", "A2", "A3", "B1", "B2", "B3"} {
			text := decimalText(t, 5, 3)
			g.put("Sheet1", at, text)
			n, _ := strconv.ParseFloat(text, 64)
			if err := f.SetCellValue("Sheet1", at, n); err != nil {
				t.Fatal(err)
			}
		}
		formula := anyFormula().Draw(t, "formula")
		g.put("Sheet1", "D4", "="+formula)
		if err := f.SetCellFormula("Sheet1", "D4", formula); err != nil {
			t.Fatal(err)
		}
		want, wantErr := f.CalcCellValue("Sheet1", "D4")
		p, err := New(g, DefaultBounds()).At(t.Context(), "Sheet1", sheet.Place{Row: 4, Column: 4})
		if err != nil {
			t.Fatalf("%s: %v", formula, err)
		}
		if same(p.Binary, want, wantErr) {
			return
		}
		t.Fatalf("%s is %s, and %q, %v by the library", formula, p.Binary, want, wantErr)
	})
}

func same(v Value, want string, err error) bool {
	switch v.Kind() {
	case KindNumber:
		w, fault := strconv.ParseFloat(want, 64)
		return fault == nil && math.Abs(v.Float64()-w) <= 1e-9*max(1, math.Abs(w))
	case KindError:
		return want == v.String() || err != nil && strings.Contains(err.Error(), v.String())
	}
	return v.String() == want || fmt.Sprint(v) == want
}
