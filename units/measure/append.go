package measure

import (
	"strconv"

	"example.com/closefit/units"
)

// AppendConditions appends conditions to b as JSON, null for none.
func AppendConditions(b []byte, list []Condition) []byte {
	for i, c := range list {
		b = append(b, separator(i)...)
		b = units.AppendJSON(append(b, `{"what":`...), c.What)
		b = append(units.AppendJSON(append(b, `,"is":`...), c.Is), '}')
	}
	return appendEnd(b, len(list))
}

// AppendBounds appends the bounds of an interval to b as JSON, {"lo", "hi"}, and null for one
// that there is not.
func AppendBounds[D units.Dimension](b []byte, a units.Interval[D]) []byte {
	if b = append(b, `{"lo":`...); a.HasLo() {
		b = appendQuantity(b, "", a.Lo())
	} else {
		b = append(b, "null"...)
	}
	if b = append(b, `,"hi":`...); a.HasHi() {
		b = appendQuantity(b, "", a.Hi())
	} else {
		b = append(b, "null"...)
	}
	return append(b, '}')
}

// AppendReading appends the exchange form of a reading to b, null for one that was not taken.
func AppendReading[D units.Dimension](b []byte, r Reading[D]) []byte {
	if !r.Taken() {
		return append(b, "null"...)
	}
	b = append(b, `{"acts":`...)
	var room [1]part[D]
	for i, p := range r.parts(&room) {
		b = appendAct(append(b, separator(i)...), p.factor, p.act)
	}
	if r.of == nil {
		b = append(b, `],"words":null,"unmet":null,"of_stations":false`...)
	} else {
		b = units.AppendJSON(append(b, `],"words":`...), r.of.words)
		b = append(b, `,"unmet":`...)
		for i, u := range r.of.unmet {
			b = units.AppendJSON(append(b, separator(i)...), u)
		}
		b = appendEnd(b, len(r.of.unmet))
		b = strconv.AppendBool(append(b, `,"of_stations":`...), r.of.spread)
	}
	b = strconv.AppendBool(append(b, `,"non_negative":`...), r.nonNegative)
	b = strconv.AppendBool(append(b, `,"at_worst":`...), r.atWorst)
	b = AppendConditions(append(b, `,"conditions":`...), r.conditions)
	return append(b, '}')
}

func appendAct[D units.Dimension](b []byte, factor units.Ratio, a *act[D]) []byte {
	m := a.rest()
	b = appendQuantity(b, `{"factor":`, factor)
	b = units.AppendJSON(append(b, `,"means":`...), meansWords[a.means].word)
	b = units.AppendJSON(append(b, `,"by":`...), a.by)
	b = units.AppendJSON(append(b, `,"at":`...), a.at)
	b = units.AppendJSON(append(b, `,"setting":`...), m.setting)
	b = appendQuantity(b, `,"seen":[`, m.seen[0])
	b = appendQuantity(b, ",", m.seen[1])
	b = strconv.AppendInt(append(b, `],"count":`...), int64(m.count), 10)
	b = AppendBounds(append(b, `,"bracket":`...), a.bracket)
	b = appendQuantity(b, `,"stated":`, a.stated)
	b = strconv.AppendInt(append(b, `,"freedom":`...), int64(a.freedom), 10)
	b = append(b, `,"doubts":`...)
	for i, d := range m.doubts {
		b = append(b, separator(i)...)
		b = units.AppendJSON(append(b, `{"kind":`...), kindWords[d.kind])
		b = units.AppendJSON(append(b, `,"of":`...), d.of)
		b = units.AppendJSON(append(b, `,"act":`...), d.act)
		b = appendQuantity(b, `,"lo":`, d.lo)
		b = appendQuantity(b, `,"hi":`, d.hi)
		b = append(strconv.AppendInt(append(b, `,"freedom":`...), int64(d.freedom), 10), '}')
	}
	return append(appendEnd(b, len(m.doubts)), '}')
}

// separator begins an element of a list, and appendEnd ends a list of so many, null for none.
func separator(i int) string {
	if i == 0 {
		return "["
	}
	return ","
}

func appendEnd(b []byte, n int) []byte {
	if n == 0 {
		return append(b, "null"...)
	}
	return append(b, ']')
}

// appendQuantity appends a name and a quantity.
func appendQuantity[D units.Dimension](b []byte, name string, q units.Quantity[D]) []byte {
	b, _ = q.AppendText(append(append(b, name...), '"'))
	return append(b, '"')
}
