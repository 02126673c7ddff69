package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.com/closefit/units"
)

func FuzzUnits(f *testing.F)       { fuzzForms(f, unitsForms()) }
func FuzzMeasure(f *testing.F)     { fuzzForms(f, measureForms()) }
func FuzzClearance(f *testing.F)   { fuzzForms(f, clearanceForms()) }
func FuzzIsofit(f *testing.F)      { fuzzForms(f, isofitForms()) }
func FuzzStack(f *testing.F)       { fuzzForms(f, stackForms()) }
func FuzzFilm(f *testing.F)        { fuzzForms(f, filmForms()) }
func FuzzFasteners(f *testing.F)   { fuzzForms(f, fastenersForms()) }
func FuzzGrading(f *testing.F)     { fuzzForms(f, gradingForms()) }
func FuzzPurchase(f *testing.F)    { fuzzForms(f, purchaseForms()) }
func FuzzTorque(f *testing.F)      { fuzzForms(f, torqueForms()) }
func FuzzLedger(f *testing.F)      { fuzzForms(f, ledgerForms()) }
func FuzzPreload(f *testing.F)     { fuzzForms(f, preloadForms()) }
func FuzzExamination(f *testing.F) { fuzzForms(f, examinationForms()) }

// fuzzForms reads any text as any type of a package. A name of no type stands for one
// that its length picks, so that few texts are wasted.
func fuzzForms(f *testing.F, forms []form) {
	byName := map[string]form{}
	for _, one := range forms {
		byName[one.name] = one
		for _, text := range one.examples() {
			f.Add(one.name, text)
		}
	}
	f.Add(forms[0].name, []byte(`{"a":null}`))
	f.Add(forms[0].name, []byte(`"1 mm"`))
	f.Fuzz(func(t *testing.T, name string, text []byte) {
		one, known := byName[name]
		if !known {
			one = forms[len(name)%len(forms)]
		}
		one.fuzz(t, text)
	})
}

// written returns what two drawn values are written as.
func written[T any](draw func(t *rapid.T) T) (texts [][]byte) {
	for seed := range 2 {
		text, err := json.Marshal(rapid.Custom(draw).Example(seed))
		if err != nil {
			panic(err)
		}
		texts = append(texts, text)
	}
	return texts
}

// readsOrRefuses fails unless a text is refused with an error that says what was found,
// and nothing of it is kept, or is read, and then written as what reads the same again.
func readsOrRefuses[T any](t *testing.T, text []byte) {
	var v T
	if err := json.Unmarshal(text, &v); err != nil {
		if !explains(err) {
			t.Errorf("%T: %.400q is refused with %T: %.400s", v, text, err, err)
		}
		if _, itself := any(&v).(json.Unmarshaler); itself && !reflect.ValueOf(&v).Elem().IsZero() {
			t.Errorf("%T: %.400q is refused, and half read", v, text)
		}
		return
	}
	first, err := json.Marshal(v)
	if err != nil {
		if tooLong := errors.Is(err, units.ErrSyntax); !tooLong { // what is computed of two texts may be longer than one may be
			t.Fatalf("%T: %.400q is read, and cannot be written: %v", v, text, err)
		}
		return
	}
	var again T
	if err := json.Unmarshal(first, &again); err != nil {
		t.Fatalf("%T: %.400q is read, and what it is written as is not, %.400q: %v", v, text, first, err)
	}
	second, err := json.Marshal(again)
	if err != nil || !bytes.Equal(first, second) {
		t.Fatalf("%T: %.400q is written as %.400q, and then as %.400q, %v", v, text, first, second, err)
	}
}

// explains reports whether an error is one of the library that says what was found and what to
// write, or package json's that says where the text is none of its form.
func explains(err error) bool {
	if len(err.Error()) > 4096 || !utf8.ValidString(err.Error()) {
		return false
	}
	if e, is := errors.AsType[*units.Error](err); is {
		return e.Kind != nil && e.Found != "" && e.Fix != ""
	}
	syntax, isSyntax := errors.AsType[*json.SyntaxError](err)
	wrongType, isType := errors.AsType[*json.UnmarshalTypeError](err)
	return isSyntax && syntax.Error() != "" || isType && wrongType.Value != ""
}
