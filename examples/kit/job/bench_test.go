package job_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// twelve is an engine of twelve cylinders and seven mains whose bearings are known by
// station, cold and warm, and whose cylinders were read at six stations.
func twelve() string {
	all := func(n int, text string) string {
		var s []string
		for i := range n {
			s = append(s, fmt.Sprintf("%d = \"%s\"", i+1, text))
		}
		return "readings = { " + strings.Join(s, ", ") + " }\n"
	}
	src := strings.NewReplacer("cylinders = 2", "cylinders = 12", "mains = 3", "mains = 7").Replace(
		bench(`"main bore", "main journal", "rod bore", "rod journal", "cylinder", "main bearing warm clearance", "rod bearing warm clearance"`))
	for part, n := range map[string]int{"main": 7, "rod": 12} {
		src += measuring(part+" bore", "with = \"fine gauge\"\nlimits = \"60.000..60.030 mm\"\n"+proper+"\n"+stationNames+"\n"+all(n, "60.012 60.016; 60.010 60.014 mm")) +
			measuring(part+" journal", "with = \"fine\"\nlimits = \"55.960..55.980 mm\"\n"+stationNames+"\n"+all(n, "55.971 55.970; 55.969 55.972 mm")) +
			measuring(part+" bearing clearance", "limits = \"0.02..0.07 mm\"") + measuring(part+" bearing warm clearance", "limits = \"0.01..0.15 mm\"")
		for _, half := range []string{"upper", "lower"} {
			src += measuring(part+" "+half+" wall thickness", "with = \"fine\"\n"+all(n, "2.001 mm")) + measuring(part+" "+half+" wall joint thickness", "with = \"fine\"\n"+all(n, "1.995 mm"))
		}
	}
	src += measuring("cylinder", "with = \"fine gauge\"\nlimits = \"82.000..82.030 mm\"\n"+all(12, "82.012 82.011; 82.010 82.012; 82.010 82.012 mm")) +
		"[temperatures]\nhot = \"90 °C\"\n[materials]\nsteel = \"11.5 ppm\"\nlight = \"23 ppm\"\n[warmth]\nblock = { material = \"light\", running = \"hot\" }\n"
	for _, part := range []string{"rods", "crankshaft", `"main shells"`, `"rod shells"`} {
		src += part + " = { material = \"steel\", running = \"hot\" }\n"
	}
	return src
}

// BenchmarkByStation reads and assesses a job of which every bearing is known by station.
func BenchmarkByStation(b *testing.B) {
	src := []byte(twelve())
	for b.Loop() {
		j, err := job.Read("job.toml", src)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := j.Assess(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}
