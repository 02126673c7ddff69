package main

import (
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// TestRecalculatedVerdicts: verdicts that are right as stored, and are not when the
// sheet is recalculated. 60.044 - 2.006 - 2.004 - 55.986 is 0.048, the limit itself;
// subtracted one after the other in binary64 it is a little more.
func TestRecalculatedVerdicts(t *testing.T) {
	judged := func(n int, bore, journal, clearance, verdict string) string {
		return fmt.Sprintf(`<row r="%[1]d"><c r="A%[1]d" t="inlineStr"><is><t>main</t></is></c><c r="B%[1]d"><v>%[2]s</v></c><c r="C%[1]d"><v>2.006</v></c><c r="D%[1]d"><v>2.004</v></c><c r="E%[1]d"><v>%[3]s</v></c><c r="F%[1]d"><f>B%[1]d-C%[1]d-D%[1]d-E%[1]d</f><v>%[4]s</v></c><c r="G%[1]d" t="str"><f>%[5]s</f><v>OK</v></c></row>`,
			n, bore, journal, clearance, verdict)
	}
	rows := judged(2, "60.044", "55.986", "0.048", `IF(F2&lt;=0.048,"OK","high")`) +
		judged(3, "60.012", "55.971", "0.031", `IF(F3&lt;0.03,"OK","high")`) +
		judged(4, "60.044", "55.986", "0.048", `IF(ROUND(F4,6)&lt;=0.048,"OK","high")`) +
		judged(5, "60.012", "55.971", "0.031", `IF(AND(F5&gt;=0.024,F5&lt;=0.048),"OK","high")`)
	path := sheettest.Pack(t, "book.xlsx", workbook(rows))
	status, out, errs, _ := checkFile(t, path)
	for _, want := range []string{
		"2 findings in 2 cells",
		`it hangs on the last bit: the formula gives "OK" exactly and "high" in binary arithmetic`,
		`the formula gives "high": it changes when the sheet is recalculated`,
	} {
		if status != checked || !strings.Contains(out, want) {
			t.Errorf("status %d, %s: want %q in\n%s", status, errs, want, out)
		}
	}
}
