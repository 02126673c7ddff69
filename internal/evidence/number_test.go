package evidence

import (
	"math/big"
	"testing"
)

func rat(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("%q is no number", s)
	}
	return r
}

func TestLastPlace(t *testing.T) {
	tests := []struct{ number, place string }{
		{"3.20", "0.01"}, {"30.0", "0.1"}, {".0015", "0.0001"}, {"1200", "1"}, {"0", "1"}, {"-0.50", "0.01"},
		{"1.2e3", "100"}, {"1.20e-6", "0.00000001"}, {"+7.000", "0.001"},
	}
	for _, test := range tests {
		d, err := parseNumber(test.number)
		if err != nil {
			t.Errorf("%s: %v", test.number, err)
			continue
		}
		if got := lastPlace(d); got.Cmp(rat(t, test.place)) != 0 {
			t.Errorf("last place of %s = %s, want %s", test.number, got, test.place)
		}
	}
}

func TestPlain(t *testing.T) {
	tests := []struct {
		number string
		most   int
		want   string
	}{
		{"5/4", 9, "1.25"}, {"12", 9, "12"}, {"-1/3", 4, "-0.3333…"}, {"1/1024", 5, "0.00098…"},
	}
	for _, test := range tests {
		if got := plain(rat(t, test.number), test.most); got != test.want {
			t.Errorf("plain(%s, %d) = %s, want %s", test.number, test.most, got, test.want)
		}
	}
}

func TestTwoDigits(t *testing.T) {
	tests := []struct{ number, want string }{
		{"0", "0.0"}, {"0.0000312", "0.000031"}, {"4.24", "4.2"}, {"0.996", "1.0"}, {"42.4", "42"}, {"170.4", "170"},
		{"1/3000000000000", "3.3e-13"},
	}
	for _, test := range tests {
		if got := twoDigits(rat(t, test.number)); got != test.want {
			t.Errorf("twoDigits(%s) = %s, want %s", test.number, got, test.want)
		}
	}
}
