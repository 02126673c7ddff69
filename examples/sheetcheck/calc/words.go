package calc

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

func textFunctions() map[string]function {
	one := func(apply func(s string) string) function {
		return ofTexts(1, 1, func(_ *frame, s []Value) Value { return textValue(apply(s[0].text)) })
	}
	return map[string]function{
		"CONCATENATE": ofTexts(1, -1, func(_ *frame, s []Value) Value { return joined(s, "") }),
		"CONCAT":      {least: 1, most: -1, parts: func(f *frame, args []Expr) operand { return plain(f.textJoin(args, "", false)) }},
		"TEXTJOIN": {least: 3, most: -1, parts: func(f *frame, args []Expr) operand {
			between, skip := f.text(f.value(args[0])), f.logical(f.value(args[1]))
			if v, is := bad(between, skip); is {
				return plain(v)
			}
			return plain(f.textJoin(args[2:], between.text, skip.Bool()))
		}},
		"LEFT":  {least: 1, most: 2, values: func(f *frame, v []Value) Value { return f.part(v, false) }},
		"RIGHT": {least: 1, most: 2, values: func(f *frame, v []Value) Value { return f.part(v, true) }},
		"MID": {least: 3, most: 3, values: func(f *frame, v []Value) Value {
			s, from, length, why := f.span(v[0], v[1], v[2])
			if why.kind != KindBlank {
				return why
			}
			from = min(from-1, len(s))
			return textValue(string(s[from:min(from+length, len(s))]))
		}},
		"REPLACE": {least: 4, most: 4, values: func(f *frame, v []Value) Value {
			s, from, length, why := f.span(v[0], v[1], v[2])
			with := f.text(v[3])
			if v, is := bad(why, with); is {
				return v
			}
			from = min(from-1, len(s))
			return limited(string(s[:from]) + with.text + string(s[min(from+length, len(s)):]))
		}},
		"LEN": ofTexts(1, 1, func(f *frame, s []Value) Value { return f.int(utf8.RuneCountInString(s[0].text)) }),
		"TRIM": one(func(s string) string {
			return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' }), " ")
		}),
		"UPPER":  one(strings.ToUpper),
		"LOWER":  one(strings.ToLower),
		"PROPER": one(proper),
		"CLEAN": one(func(s string) string {
			return strings.Map(func(r rune) rune {
				if r < ' ' {
					return -1
				}
				return r
			}, s)
		}),
		"EXACT": ofTexts(2, 2, func(_ *frame, s []Value) Value { return logical(s[0].text == s[1].text) }),
		"REPT": {least: 2, most: 2, values: func(f *frame, v []Value) Value {
			s := f.text(v[0])
			n, why, ok := f.integer(v[1])
			switch {
			case s.kind != KindText:
				return s
			case !ok:
				return why
			case n < 0 || n*len(s.text) > longestText:
				return failed(ErrValue)
			}
			return textValue(strings.Repeat(s.text, n))
		}},
		"SUBSTITUTE": {least: 3, most: 4, values: substitute},
		"FIND":       {least: 2, most: 3, values: func(f *frame, v []Value) Value { return f.search(v, false) }},
		"SEARCH":     {least: 2, most: 3, values: func(f *frame, v []Value) Value { return f.search(v, true) }},
		"CHAR": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			c, why, ok := f.integer(n[0])
			switch {
			case !ok:
				return why
			case c < 1 || c > 255:
				return failed(ErrValue)
			case c > 126:
				return unknown("CHAR of a number above 126 depends on the computer")
			}
			return textValue(string(rune(c)))
		}),
		"UNICHAR": ofNumbers(1, 1, func(f *frame, n []Value) Value {
			c, why, ok := f.integer(n[0])
			switch {
			case !ok:
				return why
			case c < 1 || !utf8.ValidRune(rune(c)):
				return failed(ErrValue)
			}
			return textValue(string(rune(c)))
		}),
		"VALUE": {least: 1, most: 1, values: func(f *frame, v []Value) Value { return f.number(v[0]) }},
		"FIXED": {least: 1, most: 3, values: func(f *frame, v []Value) Value {
			x, places, plain := f.number(v[0]), 2, logical(false)
			if len(v) > 1 {
				n, why, ok := f.integer(v[1])
				if !ok {
					return why
				}
				places = n
			}
			if len(v) > 2 {
				plain = f.logical(v[2])
			}
			if v, is := bad(x, plain); is {
				return v
			}
			return f.fixed(x, places, !plain.Bool())
		}},
		"TEXT": {least: 2, most: 2, values: func(f *frame, v []Value) Value {
			if v[0].kind == KindText {
				return v[0]
			}
			x, format := f.number(v[0]), f.text(v[1])
			if v, is := bad(x, format); is {
				return v
			}
			return f.formatted(x, format.text)
		}},
	}
}

func limited(s string) Value {
	if len(s) > longestText {
		return failed(ErrValue)
	}
	return textValue(s)
}

func joined(s []Value, between string) Value {
	var b strings.Builder
	for i, v := range s {
		if i > 0 {
			b.WriteString(between)
		}
		b.WriteString(v.text)
		if b.Len() > longestText {
			return failed(ErrValue)
		}
	}
	return textValue(b.String())
}

func (f *frame) textJoin(args []Expr, between string, skip bool) Value {
	var all, faults []Value
	length := 0
	for _, arg := range args {
		why := f.each(f.eval(arg), func(v Value, _ bool) {
			v = f.text(v)
			if v.kind != KindText {
				faults = append(faults, v)
				return
			}
			if length += len(v.text) + len(between); length <= longestText && (!skip || v.text != "") {
				all = append(all, v)
			}
		})
		faults = append(faults, why)
	}
	if v, is := bad(faults...); is {
		return v
	}
	if length > longestText {
		return failed(ErrValue)
	}
	return joined(all, between)
}

// part is LEFT and RIGHT. Characters are those of Unicode.
func (f *frame) part(v []Value, right bool) Value {
	s, n := f.text(v[0]), 1
	if s.kind != KindText {
		return s
	}
	if len(v) == 2 {
		length, why, ok := f.integer(v[1])
		switch {
		case !ok:
			return why
		case length < 0:
			return failed(ErrValue)
		}
		n = length
	}
	runes := []rune(s.text)
	n = min(n, len(runes))
	if right {
		return textValue(string(runes[len(runes)-n:]))
	}
	return textValue(string(runes[:n]))
}

// span reads a text, a place in it from 1, and a length.
func (f *frame) span(text, begin, size Value) (s []rune, from, length int, why Value) {
	t := f.text(text)
	if t.kind != KindText {
		return nil, 0, 0, t
	}
	from, why, ok := f.integer(begin)
	if !ok {
		return nil, 0, 0, why
	}
	length, why, ok = f.integer(size)
	switch {
	case !ok:
		return nil, 0, 0, why
	case from < 1 || length < 0:
		return nil, 0, 0, failed(ErrValue)
	}
	return []rune(t.text), from, length, Value{}
}

func proper(s string) string {
	inside := false
	return strings.Map(func(r rune) rune {
		letter := unicode.IsLetter(r)
		defer func() { inside = letter }()
		if inside {
			return unicode.ToLower(r)
		}
		return unicode.ToUpper(r)
	}, s)
}

func substitute(f *frame, v []Value) Value {
	s, old, with := f.text(v[0]), f.text(v[1]), f.text(v[2])
	if v, is := bad(s, old, with); is {
		return v
	}
	if old.text == "" {
		return s
	}
	if len(v) < 4 {
		if strings.Count(s.text, old.text)*max(0, len(with.text)-len(old.text)) > longestText {
			return failed(ErrValue)
		}
		return limited(strings.ReplaceAll(s.text, old.text, with.text))
	}
	n, why, ok := f.integer(v[3])
	switch {
	case !ok:
		return why
	case n < 1:
		return failed(ErrValue)
	}
	at := 0
	for ; ; n-- {
		next := strings.Index(s.text[at:], old.text)
		if next < 0 {
			return s
		}
		at += next
		if n == 1 {
			return limited(s.text[:at] + with.text + s.text[at+len(old.text):])
		}
		at += len(old.text)
	}
}

// search is FIND, which tells capitals, and SEARCH, which does not and takes wildcards.
func (f *frame) search(v []Value, loose bool) Value {
	what, in, from := f.text(v[0]), f.text(v[1]), 1
	if v, is := bad(what, in); is {
		return v
	}
	if len(v) > 2 {
		n, why, ok := f.integer(v[2])
		if !ok {
			return why
		}
		from = n
	}
	s, sought := in.text, what.text
	if loose {
		s, sought = strings.ToLower(s), strings.ToLower(sought)
	}
	runes := []rune(s)
	if from < 1 || from > len(runes)+1 {
		return failed(ErrValue)
	}
	if !loose || !strings.ContainsAny(sought, "*?~") {
		at := strings.Index(string(runes[from-1:]), sought)
		if at < 0 {
			return failed(ErrValue)
		}
		return f.int(from + utf8.RuneCountInString(string(runes[from-1:])[:at]))
	}
	if len(runes) > 1024 {
		return unknown("a search with wildcards in a long text")
	}
	for at := from - 1; at < len(runes); at++ {
		if match(sought+"*", string(runes[at:])) {
			return f.int(at + 1)
		}
	}
	return failed(ErrValue)
}

// formatted writes a number as TEXT does, by the plain formats: digits, a point,
// commas between thousands, percent, and texts before and behind.
func (f *frame) formatted(x Value, format string) Value {
	before, rest := literal(format)
	digits := strings.TrimLeft(rest, "#0,")
	head := rest[:len(rest)-len(digits)]
	tail := ""
	if strings.HasPrefix(digits, ".") {
		rest = strings.TrimLeft(digits[1:], "0#")
		tail = digits[1 : len(digits)-len(rest)]
	} else {
		rest = digits
	}
	percent := strings.HasPrefix(rest, "%")
	behind, left := literal(strings.TrimPrefix(rest, "%"))
	least := strings.Count(head, "0")
	odd := strings.HasSuffix(head, ",") || strings.Contains(strings.TrimLeft(strings.ReplaceAll(head, ",", ""), "#"), "#") || strings.Contains(strings.TrimLeft(tail, "0"), "0")
	if strings.EqualFold(format, "general") || format == "@" {
		return f.text(x)
	}
	if left != "" || odd || head == "" && tail == "" {
		return unknown(fmt.Sprintf("the format %q", format))
	}
	if percent {
		if x = f.mul(x, f.int(100)); x.kind != KindNumber {
			return x
		}
		behind = "%" + behind
	}
	v := f.fixed(x, len(tail), false)
	if v.kind != KindText {
		return v
	}
	s, sign := strings.CutPrefix(v.text, "-")
	whole, fraction, _ := strings.Cut(s, ".")
	wanted := strings.Count(tail, "0") // places that are shown even if they are 0
	for len(fraction) > wanted && strings.HasSuffix(fraction, "0") {
		fraction = fraction[:len(fraction)-1]
	}
	if whole = strings.TrimLeft(whole, "0"); len(whole) < least {
		whole = pad(whole, least)
	}
	if strings.Contains(head, ",") {
		whole = group(whole)
	}
	if strings.Contains(rest, ".") || strings.Contains(format, ".") {
		whole += "."
	}
	if sign && strings.Trim(whole+fraction, "0.,") != "" {
		before = "-" + before
	}
	return limited(before + whole + fraction + behind)
}

// literal reads what a format shows as it is: texts in quotation marks, and spaces.
func literal(format string) (text, rest string) {
	for format != "" {
		switch format[0] {
		case '"':
			inner, after, ok := strings.Cut(format[1:], `"`)
			if !ok {
				return text, format
			}
			text, format = text+inner, after
		case ' ':
			text, format = text+" ", format[1:]
		default:
			return text, format
		}
	}
	return text, format
}
