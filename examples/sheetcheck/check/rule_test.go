package check

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/units"
)

// ruleOf returns the rule of the one check of a map, and who made it.
func ruleOf(t testing.TB, src string) (*rule, *ruler) {
	t.Helper()
	m, places, err := mapfile.Read("map.toml", []byte("[[table]]\nrows = \"3..6\"\n[table.column]\n"+src))
	if err != nil {
		t.Fatal(err)
	}
	var errs tomlfile.Errors
	r := &ruler{table: &m.Tables[0], places: places, errs: &errs}
	r.make()
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	return r.rules[0], r
}

const (
	bearingColumns = "bore = { at = \"B\", unit = \"mm\" }\nupper = { at = \"C\", unit = \"mm\" }\nlower = { at = \"D\", unit = \"mm\" }\njournal = { at = \"E\", unit = \"mm\" }\nclearance = { at = \"F\", unit = %q }\n[[table.check]]\nclaim = \"clearance\"\nby = \"bearing clearance\"\n"
	oneWallColumns = "bore = { at = \"B\", unit = \"in\" }\nwall = { at = \"C\", unit = \"in\" }\njournal = { at = \"D\", unit = \"in\" }\nclearance = { at = \"E\", unit = \"thou\" }\n[[table.check]]\nclaim = \"clearance\"\nby = \"bearing clearance\"\n"
)

// TestRules: what checks by name should read.
func TestRules(t *testing.T) {
	for _, test := range []struct{ name, src, want string }{
		{"a bearing", fmt.Sprintf(bearingColumns, "mm"), "B3-C3-D3-E3"},
		{"a bearing in another unit", fmt.Sprintf(bearingColumns, "µm"), "(B3-C3-D3-E3)*1000"},
		{"a bearing in inches", fmt.Sprintf(bearingColumns, "in"), "(B3-C3-D3-E3)/25.4"},
		{"one wall", oneWallColumns, "(B3-2*C3-D3)*1000"},
		{"units of two kinds", strings.Replace(fmt.Sprintf(bearingColumns, "mm"), `"C", unit = "mm"`, `"C", unit = "in"`, 1), "B3-C3*25.4-D3-E3"},
		{"a verdict by cells", "play = { at = \"B\", unit = \"mm\" }\nverdict = { at = \"C\" }\n[[table.check]]\nclaim = \"verdict\"\nby = \"verdict\"\nof = [\"play\"]\nlimits = \"Limits!B2..B3\"\n",
			`IF(B3<Limits!$B$2,"low",IF(B3>Limits!$B$3,"high","ok"))`},
		{"a verdict in another unit", "play = { at = \"B\", unit = \"mm\" }\nverdict = { at = \"C\" }\n[[table.check]]\nclaim = \"verdict\"\nby = \"verdict\"\nof = [\"play\"]\nlimits = \"at most 10 thou\"\n",
			`IF(B3>0.254,"high","ok")`},
		// A pound-force foot is 0.3048 · 4.4482216152605 N·m exactly.
		{"a torque", "new = { at = \"B\", unit = \"ft-lb\" }\nmetric = { at = \"C\", unit = \"N·m\" }\n[[table.check]]\nclaim = \"metric\"\nby = \"torque pair\"\nof = [\"new\"]\n", "B3*1.3558179483314004"},
	} {
		if m, _ := ruleOf(t, test.src); m.base.String() != test.want {
			t.Errorf("%s should read %s, want %s", test.name, m.base, test.want)
		}
	}
}

// TestRuleLikeLibrary: what a bearing's rule makes of sizes is what the library makes of them.
func TestRuleLikeLibrary(t *testing.T) {
	full, _ := ruleOf(t, fmt.Sprintf(bearingColumns, "mm"))
	oneWall, _ := ruleOf(t, strings.ReplaceAll(strings.ReplaceAll(oneWallColumns, `"in"`, `"mm"`), `"thou"`, `"mm"`))
	rapid.Check(t, func(t *rapid.T) {
		micrometres := rapid.Int64Range(-90_000, 90_000)
		in := make([]units.Length, 4)
		for i := range in {
			in[i] = units.Micrometre.OfInt(micrometres.Draw(t, "size"))
		}
		b := clearance.Bearing{HousingBore: units.Exactly(in[0]), UpperWall: units.Exactly(in[1]), LowerWall: units.Exactly(in[2]), Journal: units.Exactly(in[3])}
		for i, r := range []*rule{full, oneWall} {
			if i == 1 {
				b.LowerWall, b.Journal = b.UpperWall, units.Exactly(in[2])
			}
			l, ok := pattern.LinearOf(r.base)
			sum := new(big.Rat)
			for _, term := range l.Terms {
				sum.Add(sum, new(big.Rat).Mul(term.Factor, in[term.Area.From.Column-2].Rat(units.Millimetre)))
			}
			if !ok || b.Clearance().Lo().Rat(units.Millimetre).Cmp(sum) != 0 {
				t.Fatalf("the clearance of %v by %s is %s; the library's is %s", in, r.base, sum.FloatString(4), b.Clearance())
			}
		}
	})
}

// TestDoubt: the uncertainty of a computed value, worked out by hand beside each.
func TestDoubt(t *testing.T) {
	column := func(name, at, by, uncertainty string) string {
		if uncertainty == "" {
			return fmt.Sprintf("%s = { at = %q, unit = \"mm\" }\n", name, at)
		}
		return fmt.Sprintf("%s = { at = %q, unit = \"mm\", instrument = %q, uncertainty = %q }\n", name, at, by, uncertainty)
	}
	const value = "value = { at = \"F\", unit = \"mm\" }\n[[table.check]]\nclaim = \"value\"\nby = "
	for _, test := range []struct{ name, src, want string }{
		{"exact readings", column("inner", "B", "", "") + column("journal", "C", "", "") + value + `"bearing clearance"`, "0"},
		{"two instruments", column("bore", "B", "bore gauge", "0.004 mm") + column("upper", "C", "", "") + column("lower", "D", "", "") + column("journal", "E", "micrometer", "0.003 mm") + value + `"bearing clearance"`, "0.005"}, // √(4² + 3²)
		{"one wall taken twice", column("bore", "B", "", "") + column("wall", "C", "ball micrometer", "0.0025 mm") + column("journal", "D", "gauge", "0.012 mm") + value + `"bearing clearance"`, "0.013"},                           // √((2·2.5)² + 12²)
		{"one instrument for both", column("inner", "B", "micrometer", "0.003 mm") + column("journal", "C", "micrometer", "0.001 mm") + value + `"bearing clearance"`, "0.004"},                                                      // 3 + 1
		{"a taper of two", column("a", "B", "micrometer", "0.003 mm") + column("b", "C", "micrometer", "0.003 mm") + value + "\"taper\"\nof = [\"a\", \"b\"]", "0.006"},                                                              // 3 + 3
		// Of three, read with U = 1 µm of which nothing else is known: 2·m·u with
		// m = 2.4228, the quantile of the largest of three magnitudes at 95.45 %.
		{"a taper of three", column("a", "B", "m", "0.001 mm") + column("b", "C", "m", "0.001 mm") + column("c", "D", "m", "0.001 mm") + value + "\"taper\"\nof = [\"a\", \"b\", \"c\"]", "0.0024228"},
		{"a rule", column("bore", "B", "bore gauge", "0.004 mm") + value + "\"ring gap\"\nper_bore = \"1\"", "0"},
	} {
		_, r := ruleOf(t, test.src+"\n")
		want, _ := new(big.Rat).SetString(test.want)
		off := new(big.Rat).Sub(r.doubt("value"), want)
		if off.Abs(off).Cmp(big.NewRat(1, 10_000_000)) > 0 {
			t.Errorf("%s: %s, want %s", test.name, r.doubt("value").FloatString(8), test.want)
		}
	}
}
