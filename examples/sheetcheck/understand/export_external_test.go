package understand_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestExported: what is right in a sheet's values alone. The lines are written by hand.
func TestExported(t *testing.T) {
	for _, test := range []struct{ name, lines string }{
		{"the greatest and an average below", `main,bore mm,upper mm,lower mm,journal mm,clearance mm
1,60.012,2.001,2.002,55.968,0.041
2,60.015,2.003,2.001,55.974,0.037
3,60.011,2.002,2.002,55.962,0.045
greatest,,,,,0.045
,,,,,0.041
`},
		{"the average beside a table across", `main,1,2,3,average
bore mm,60.012,60.015,60.011,
upper mm,2.001,2.003,2.002,
lower mm,2.002,2.001,2.002,
journal mm,55.968,55.974,55.962,
clearance mm,0.041,0.037,0.045,0.041
`},
		{"colours under the heading of a shell", `main,bore mm,upper mm,lower mm,journal mm,clearance mm,upper colour
1,60.012,2.001,2.002,55.968,0.041,green
2,60.015,2.003,2.001,55.974,0.037,brown
3,60.011,2.002,2.002,55.962,0.045,white
`},
		{"a card with two walls that are not alike", `,Big end
Bore in,1.8512
"Shell, rod side, in",0.0611
"Shell, cap side, in",0.0612
"Crankpin, in",1.7268
"Oil clearance, in",0.0021
`},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "a.csv")
			if err := os.WriteFile(path, []byte(test.lines), 0o600); err != nil {
				t.Fatal(err)
			}
			_, r := readFile(t, path)
			var said []string
			for list, all := range lists(r) {
				for _, f := range all {
					said = append(said, fmt.Sprintf("%s %v: %s (%s)", list, f.Ranges, f.Cause.Mistake, f.Cause.Says))
				}
			}
			if len(said) > 0 {
				t.Errorf("nothing is wrong, and it says\n%s", strings.Join(said, "\n"))
			}
			if r.Claims == 0 {
				t.Error("nothing was compared")
			}
		})
	}
}
