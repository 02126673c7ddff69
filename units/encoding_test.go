package units

import (
	"bytes"
	"encoding/json"
	"errors"
	"log/slog"
	"math/big"
	"strings"
	"testing"
)

// A job holds one of everything, as a program's own struct would.
type job struct {
	Bore    LengthInterval      `json:"bore"`
	Torque  Torque              `json:"torque"`
	Oil     Temperature         `json:"oil"`
	Room    TemperatureInterval `json:"room"`
	Missing *Length             `json:"missing"`
}

const jobJSON = `{"bore":"<= 60.019 mm","torque":"29.8279948632908088 N·m","oil":"90 °C","room":"18..22 °C","missing":null}`

func TestJSON(t *testing.T) {
	var j job
	if err := json.Unmarshal([]byte(`{"bore":"\u2264 60.019mm","torque":"22 ft-lb","oil":"194 °F","room":"20 ±2 °C","missing":null}`), &j); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(j); err != nil {
		t.Fatal(err)
	}
	if got := strings.TrimSpace(b.String()); got != jobJSON {
		t.Errorf("%s\nwant %s", got, jobJSON)
	}
	escaped, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	var again job
	if err := json.Unmarshal(escaped, &again); err != nil || !again.Bore.Equal(j.Bore) || !bytes.Contains(escaped, []byte(`\u003c= `)) {
		t.Errorf("%s: %v", escaped, err)
	}
}

// TestRefused: what has no unit is refused, and what was there before stays.
func TestRefused(t *testing.T) {
	tests := []struct {
		name string
		kind error
		says string
		read func(*Length) error
	}{
		{"JSON number", ErrNoUnit, `length: no unit: JSON 60.012; write a string with a number and its unit, such as "60.012 mm"`, func(l *Length) error { return json.Unmarshal([]byte("60.012"), l) }},
		{"JSON null", ErrNoUnit, "pointer", func(l *Length) error { return json.Unmarshal([]byte("null"), l) }},
		{"JSON object", ErrNoUnit, "write a string", func(l *Length) error { return l.UnmarshalJSON([]byte("{}")) }},
		{"JSON string without a unit", ErrNoUnit, `write "60.012 mm"`, func(l *Length) error { return json.Unmarshal([]byte(`"60.012"`), l) }},
		{"JSON string too long", ErrSyntax, "at most 49152", func(l *Length) error { return l.UnmarshalJSON([]byte(`"` + strings.Repeat("9", 1<<16) + `"`)) }},
		{"JSON number too long", ErrSyntax, "too many digits", func(l *Length) error { return l.UnmarshalJSON([]byte(`"` + strings.Repeat("9", 40000) + ` mm"`)) }},
		{"empty text", ErrSyntax, "nothing", func(l *Length) error { return l.UnmarshalText(nil) }},
		{"empty JSON string", ErrSyntax, "nothing", func(l *Length) error { return json.Unmarshal([]byte(`""`), l) }},
		{"text too long", ErrSyntax, "a text of", func(l *Length) error { return l.UnmarshalText(bytes.Repeat([]byte("9"), 1<<20)) }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			l := MustParseLength("1 mm")
			err := test.read(&l)
			if !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want kind %v saying %q", err, test.kind, test.says)
			}
			if l.Exact() != "1 mm" {
				t.Errorf("it left %s", l)
			}
		})
	}
	var l Length
	if err := json.Unmarshal([]byte(`"1 mm`), &l); err == nil {
		t.Error("half a JSON string was read")
	}
}

// Whatever can be held can be written and read again: here π to 50 places is
// multiplied and divided through a hundred times, as torques are to preloads and
// back, each time by something a little different.
func TestLongValuesSurvive(t *testing.T) {
	q := MustParseTorque("30 N·m")
	for i := range 100 {
		q = q.MulRat(rat(pi50)).MulRat(big.NewRat(1, int64(3+2*i)))
	}
	iv := Between(q, q.Neg().MulRat(big.NewRat(1, 7)))
	if len(q.Exact()) < 4096 {
		t.Fatalf("only %d bytes", len(q.Exact()))
	}
	var torque Torque
	var interval TorqueInterval
	if b, err := json.Marshal(q); err != nil || json.Unmarshal(b, &torque) != nil || !torque.Equal(q) {
		t.Errorf("a torque: %v", err)
	}
	if b, err := json.Marshal(iv); err != nil || json.Unmarshal(b, &interval) != nil || !interval.Equal(iv) {
		t.Errorf("an interval: %v", err)
	}
	if b, err := q.MarshalText(); err != nil || torque.UnmarshalText(b) != nil || !torque.Equal(q) {
		t.Errorf("text: %v", err)
	}
	if _, err := ParseTorque(q.Exact()); !errors.Is(err, ErrSyntax) {
		t.Errorf("a person's text of %d bytes: %v", len(q.Exact()), err)
	}
}

// The longest values that can be held survive too, and longer ones are refused
// where they arise.
func TestLongestValues(t *testing.T) {
	half := new(big.Int).Lsh(big.NewInt(1), maxBits/2-100)
	over := new(big.Int).Add(half, big.NewInt(1))
	under := new(big.Int).Add(new(big.Int).Mul(half, big.NewInt(4)), big.NewInt(3))
	for _, q := range []Length{
		{x: bounded(new(big.Rat).SetFrac(over, under))},
		{x: bounded(new(big.Rat).SetFrac(under, over))},
		{x: bounded(new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), maxBits-2)))},
	} {
		iv := Between(q, q.Neg())
		b, err := json.Marshal(iv)
		var back LengthInterval
		if err != nil || json.Unmarshal(b, &back) != nil || !back.Equal(iv) {
			t.Errorf("%d bytes: %v", len(b), err)
		}
	}
	long := Length{x: new(big.Rat).SetFrac(over, under)}
	panics(t, "units: an exact value of more than 65536 bits; round between the steps that made it, with Rounded, Inward or Outward",
		func() {
			long.MulRat(big.NewRat(1, 1<<62)).MulRat(new(big.Rat).Inv(rat(pi50))).MulRat(new(big.Rat).SetFrac(under, over)).MulRat(rat(pi50)).MulRat(new(big.Rat).SetFrac(half, under))
		})
}

func TestSlog(t *testing.T) {
	var b bytes.Buffer
	log := slog.New(slog.NewJSONHandler(&b, &slog.HandlerOptions{ReplaceAttr: func(_ []string, a slog.Attr) slog.Attr {
		if a.Key == slog.TimeKey {
			return slog.Attr{}
		}
		return a
	}}))
	log.Info("main 3", "clearance", MustParseLengthInterval("0.024..0.048 mm"), "torque", MustParseTorque("22 ft-lb"),
		"oil", MustParse[Temperature]("90 °C"), "room", MustParse[TemperatureInterval]("18..22 °C"))
	const want = `{"level":"INFO","msg":"main 3","clearance":"0.024..0.048 mm","torque":"29.8279948632908088 N·m","oil":"90 °C","room":"18..22 °C"}`
	if got := strings.TrimSpace(b.String()); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	b.Reset()
	slog.New(slog.NewTextHandler(&b, nil)).Info("main 4", "torque", MustParseTorque("22 ft-lb"), "clearance", LengthInterval{}, "oil", MustParse[Temperature]("90 °C"))
	if got, want := b.String(), `torque="29.8279948632908088 N·m" clearance=none oil="90 °C"`; !strings.Contains(got, want) {
		t.Errorf("%s\nwant %s", got, want)
	}
}
