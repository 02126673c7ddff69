package check_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
)

// The benchmarks set sheetcheck beside the plain way to do the same, in one run:
//
//	go test -run '^$' -bench . ./examples/sheetcheck/check
//
// Text files against the Python script plain.py, which does the same sums with the
// csv and decimal modules; workbooks against the workbook library's own streaming
// read of the same cells.

// bearingRow is a correct row of bench.toml.
func bearingRow(r *rand.Rand, i int) []any {
	bore, upper, lower, journal := 60_000+r.IntN(21), 2000+r.IntN(9), 2000+r.IntN(9), 55_940+r.IntN(21)
	clearance := bore - upper - lower - journal
	verdict := "OK"
	if clearance < 24 {
		verdict = "low"
	} else if clearance > 48 {
		verdict = "high"
	}
	return []any{i, float64(bore) / 1000, float64(upper) / 1000, float64(lower) / 1000, float64(journal) / 1000, float64(clearance) / 1000, verdict, float64(clearance) / 25_400}
}

func textFile(b *testing.B, rows int) string {
	b.Helper()
	name := filepath.Join(b.TempDir(), "mains.csv")
	f, err := os.Create(name)
	if err != nil {
		b.Fatal(err)
	}
	w := bufio.NewWriter(f)
	fmt.Fprintln(w, "main,bore,upper,lower,journal,clearance,verdict,inches")
	r := rand.New(rand.NewPCG(7, 11))
	for i := range rows {
		fmt.Fprintf(w, "%d,%.3f,%.3f,%.3f,%.3f,%.3f,%s,%.5f\n", bearingRow(r, i+1)...)
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
	return name
}

// checkRows checks a file by bench.toml, wants nothing found, and returns the most
// memory that was in use.
func checkRows(b *testing.B, name string, rows int) (most uint64) {
	b.Helper()
	src, err := os.ReadFile(filepath.Join(testdata, "bench.toml"))
	if err != nil {
		b.Fatal(err)
	}
	m, places, err := mapfile.Read("bench.toml", src)
	if err != nil {
		b.Fatal(err)
	}
	f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	next := 0
	progress := func(n int) {
		if n < next {
			return
		}
		next = n + 50_000
		var s runtime.MemStats
		runtime.ReadMemStats(&s)
		most = max(most, s.Sys)
	}
	r, err := check.Run(b.Context(), m, places, f, check.Options{Progress: progress})
	if err != nil {
		b.Fatal(err)
	}
	if r.Rows != rows || r.Claims != 3*rows || len(r.Findings) > 0 {
		b.Fatalf("%d rows, %d claims, findings %v", r.Rows, r.Claims, r.Findings)
	}
	return most
}

// benchmarkCheck measures checkRows.
func benchmarkCheck(b *testing.B, name string, rows int) {
	b.Run(fmt.Sprintf("sheetcheck/rows=%d", rows), func(b *testing.B) {
		var most uint64
		for b.Loop() {
			most = checkRows(b, name, rows)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		b.ReportMetric(float64(most>>20), "MB")
	})
}

func BenchmarkText(b *testing.B) {
	for _, rows := range []int{10_000, 100_000, 1_000_000} {
		name := textFile(b, rows)
		benchmarkCheck(b, name, rows)
		b.Run(fmt.Sprintf("python/rows=%d", rows), func(b *testing.B) {
			python, err := exec.LookPath("python3")
			if err != nil {
				b.Skip("no python3")
			}
			for b.Loop() {
				if out, err := exec.Command(python, filepath.Join(testdata, "plain.py"), name).CombinedOutput(); err != nil {
					b.Fatalf("%v: %s", err, out)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		})
	}
}

func BenchmarkWorkbook(b *testing.B) {
	for _, rows := range []int{10_000, 100_000} {
		name := workbookFile(b, rows)
		benchmarkCheck(b, name, rows)
		b.Run(fmt.Sprintf("streaming read/rows=%d", rows), func(b *testing.B) {
			for b.Loop() {
				if _, n := sheettest.Streamed(b, name); n != 10*(rows+1) {
					b.Fatalf("%d cells", n)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*rows), "ns/row")
		})
	}
}

// workbookFile has two columns more than the text file, as notes have.
func workbookFile(b *testing.B, rows int) string {
	b.Helper()
	r := rand.New(rand.NewPCG(7, 11))
	return sheettest.Workbook(b, rows+1, func(number int) []any {
		if number == 1 {
			return []any{"main", "bore", "upper", "lower", "journal", "clearance", "verdict", "inches", "by", "on"}
		}
		return append(bearingRow(r, number-1), "AB", 45_000+(number-1)%365)
	})
}
