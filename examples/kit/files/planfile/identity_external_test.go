package planfile_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/torque/ledger"
)

// TestIdentity: a plan can be read without saying what it is for; its work cannot be had, and
// the error says each key that is missing and what to write.
func TestIdentity(t *testing.T) {
	for _, tt := range []struct {
		name, said string
		want       []string // in the error; none if the work is whole
	}{
		{"both", "engine = \"pump engine 4711\"\nbuild = \"second rebuild\"\nwitness = \"copies\"\n", nil},
		{"neither", "", []string{`engine: missing`, `engine = "lock gate engine 4711"`, `build: missing`, `build = "rebuild of autumn"`}},
		{"no build", "engine = \"pump engine 4711\"\n", []string{"build: missing"}},
		{"open", "engine = \"?\"\nbuild = \"second rebuild\"\n", []string{"pump.toml:1: engine: missing"}},
		{"blank", "engine = \"pump engine 4711\"\nbuild = \" \"\n", []string{"pump.toml:2: build: missing"}},
		{"a blank at the end", "engine = \"pump engine 4711 \"\nbuild = \"second rebuild\"\n", []string{`pump.toml:1: engine: `, `write "pump engine 4711"`}},
	} {
		file, err := planfile.Read("pump.toml", []byte(tt.said+flange))
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		work, err := file.Work("trial assembly")
		if tt.want == nil {
			if want := (ledger.Work{Engine: "pump engine 4711", Build: "second rebuild", Assembly: "trial assembly"}); err != nil || work != want || file.Witness != "copies" {
				t.Errorf("%s: %+v, %q, %v", tt.name, work, file.Witness, err)
			}
			continue
		}
		for _, want := range tt.want {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v, want %q in it", tt.name, err, want)
			}
		}
	}
}
