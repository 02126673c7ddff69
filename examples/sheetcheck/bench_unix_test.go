//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// The benchmarks run the program without a map, from its start to its end, beside the plain
// way to do the same, in turns:
//
//	go test -run '^$' -bench WithoutMap ./examples/sheetcheck
//
// "times" is the program's time by the other's, below 1 where the program is faster; "MB" is
// the most memory that the program had, as the system counts it.

// bearingRow is a right row: a location, four sizes, their clearance, its verdict within
// 0.024 and 0.048 mm, and the clearance in inches.
func bearingRow(r *rand.Rand, i int) []any {
	bore, upper, lower, journal := 60_000+r.IntN(21), 2000+r.IntN(9), 2000+r.IntN(9), 55_940+r.IntN(21)
	clearance := bore - upper - lower - journal
	verdict := "OK"
	switch {
	case clearance < 24:
		verdict = "low"
	case clearance > 48:
		verdict = "high"
	}
	return []any{i, float64(bore) / 1000, float64(upper) / 1000, float64(lower) / 1000, float64(journal) / 1000, float64(clearance) / 1000, verdict, float64(clearance) / 25_400}
}

var benchHeadings = []any{"main", "bore mm", "upper mm", "lower mm", "journal mm", "clearance mm", "verdict (0.024 to 0.048 mm)", "clearance in"}

func benchText(b *testing.B, rows int) string {
	b.Helper()
	var text bytes.Buffer
	w := bufio.NewWriter(&text)
	fmt.Fprintln(w, strings.Trim(strings.ReplaceAll(fmt.Sprintf("%q", benchHeadings), `" "`, ","), `[]"`))
	r := rand.New(rand.NewPCG(7, 11))
	for i := range rows {
		fmt.Fprintf(w, "%d,%.3f,%.3f,%.3f,%.3f,%.3f,%s,%.5f\n", bearingRow(r, i+1)...)
	}
	name := filepath.Join(b.TempDir(), "mains.csv")
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(name, text.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	return name
}

// benchWorkbook has ten columns, three of them formulas if asked for.
func benchWorkbook(b *testing.B, rows int, formulas bool) string {
	b.Helper()
	r := rand.New(rand.NewPCG(7, 11))
	return sheettest.Workbook(b, rows+1, func(i int) []any {
		if i == 1 {
			if formulas {
				return append(append([]any{}, benchHeadings...), 0.024, 0.048)
			}
			return append(append([]any{}, benchHeadings...), "by", "on")
		}
		row := append(bearingRow(r, i-1), "AB", 45_000+i%365)
		if formulas {
			row[5] = excelize.Cell{Formula: fmt.Sprintf("B%d-C%d-D%d-E%d", i, i, i, i), Value: row[5]}
			row[6] = excelize.Cell{Formula: fmt.Sprintf(`IF(ROUND(F%d,6)<$I$1,"low",IF(ROUND(F%d,6)>$J$1,"high","OK"))`, i, i), Value: row[6]}
			row[7] = excelize.Cell{Formula: fmt.Sprintf("F%d/25.4", i), Value: row[7]}
		}
		return row
	})
}

// beside runs the program on a file, and in turns with it what it is measured against.
func beside(b *testing.B, claims int, other func(), args ...string) {
	b.Helper()
	var program, against time.Duration
	most := 0
	for b.Loop() {
		peak := filepath.Join(b.TempDir(), "status")
		cmd := exec.Command(os.Args[0], args...)
		cmd.Env = append(os.Environ(), asProgram+"="+peak)
		begun := time.Now()
		out, err := cmd.CombinedOutput()
		program += time.Since(begun)
		if err != nil || !bytes.Contains(out, []byte(fmt.Sprintf("%d claims compared: nothing is wrong", claims))) {
			b.Fatalf("%v: %.1000s", err, out)
		}
		if state, err := os.ReadFile(peak); err == nil {
			_, after, _ := strings.Cut(string(state), "VmHWM:")
			kilobytes := 0
			_, _ = fmt.Sscan(after, &kilobytes)
			most = max(most, kilobytes>>10)
		}
		begun = time.Now()
		other()
		against += time.Since(begun)
	}
	b.ReportMetric(program.Seconds()/against.Seconds(), "times")
	b.ReportMetric(float64(most), "MB")
	b.ReportMetric(program.Seconds()/float64(b.N), "s-program")
	b.ReportMetric(against.Seconds()/float64(b.N), "s-other")
}

func BenchmarkWithoutMap(b *testing.B) {
	b.Run("text, rows=1000000, beside Python", func(b *testing.B) {
		python, err := exec.LookPath("python3")
		if err != nil {
			b.Skip("no python3")
		}
		const rows = 1_000_000
		name := benchText(b, rows)
		beside(b, 3*rows, func() {
			if out, err := exec.Command(python, kept("plain.py"), name).CombinedOutput(); err != nil {
				b.Fatalf("%v: %s", err, out)
			}
		}, name)
	})
	for _, formulas := range []bool{false, true} {
		b.Run(fmt.Sprintf("workbook, rows=100000, formulas=%t, beside the streaming read", formulas), func(b *testing.B) {
			const rows = 100_000
			name := benchWorkbook(b, rows, formulas)
			beside(b, 3*rows, func() {
				if n, _ := sheettest.Streamed(b, name); n != rows+1 {
					b.Fatalf("%d rows", n)
				}
			}, name)
		})
	}
}
