package units

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"log/slog"
)

// MarshalText returns q.Exact. The error wraps ErrTooLong if the text would be
// too long to be parsed again, which takes a number of some 500 digits.
func (q Quantity[D]) MarshalText() ([]byte, error) { return boundedText(q.Exact()) }

// UnmarshalText parses text as the dimension's Parse function does.
func (q *Quantity[D]) UnmarshalText(text []byte) error { return into(q, text, parse[D]) }

// MarshalJSON returns q.Exact as a JSON string.
func (q Quantity[D]) MarshalJSON() ([]byte, error) { return jsonText(q.Exact()) }

// UnmarshalJSON parses a JSON string. For a value that may be null use a pointer.
func (q *Quantity[D]) UnmarshalJSON(data []byte) error { return fromJSON(q, data, parse[D]) }

// Value returns q.Exact, for a text column.
func (q Quantity[D]) Value() (driver.Value, error) { return sqlText(q.Exact()) }

// Scan parses a text column. For a column that may be NULL use sql.Null.
func (q *Quantity[D]) Scan(src any) error { return fromSQL(q, src, parse[D]) }

// LogValue returns q.Exact.
func (q Quantity[D]) LogValue() slog.Value { return slog.StringValue(q.Exact()) }

// MarshalText returns a.Exact; see Quantity.MarshalText for the error.
func (a Interval[D]) MarshalText() ([]byte, error) { return boundedText(a.Exact()) }

// UnmarshalText parses text as the dimension's ParseInterval function does.
func (a *Interval[D]) UnmarshalText(text []byte) error { return into(a, text, parseInterval[D]) }

// MarshalJSON returns a.Exact as a JSON string.
func (a Interval[D]) MarshalJSON() ([]byte, error) { return jsonText(a.Exact()) }

// UnmarshalJSON parses a JSON string. For a value that may be null use a pointer.
func (a *Interval[D]) UnmarshalJSON(data []byte) error { return fromJSON(a, data, parseInterval[D]) }

// Value returns a.Exact, for a text column.
func (a Interval[D]) Value() (driver.Value, error) { return sqlText(a.Exact()) }

// Scan parses a text column. For a column that may be NULL use sql.Null.
func (a *Interval[D]) Scan(src any) error { return fromSQL(a, src, parseInterval[D]) }

// LogValue returns a.Exact.
func (a Interval[D]) LogValue() slog.Value { return slog.StringValue(a.Exact()) }

// MarshalText returns t.Exact; see Quantity.MarshalText for the error.
func (t Temperature) MarshalText() ([]byte, error) { return boundedText(t.Exact()) }

// UnmarshalText parses text as ParseTemperature does.
func (t *Temperature) UnmarshalText(text []byte) error { return into(t, text, ParseTemperature) }

// MarshalJSON returns t.Exact as a JSON string.
func (t Temperature) MarshalJSON() ([]byte, error) { return jsonText(t.Exact()) }

// UnmarshalJSON parses a JSON string. For a value that may be null use a pointer.
func (t *Temperature) UnmarshalJSON(data []byte) error { return fromJSON(t, data, ParseTemperature) }

// Value returns t.Exact, for a text column.
func (t Temperature) Value() (driver.Value, error) { return sqlText(t.Exact()) }

// Scan parses a text column. For a column that may be NULL use sql.Null.
func (t *Temperature) Scan(src any) error { return fromSQL(t, src, ParseTemperature) }

// LogValue returns t.Exact.
func (t Temperature) LogValue() slog.Value { return slog.StringValue(t.Exact()) }

// MarshalText returns a.Exact; see Quantity.MarshalText for the error.
func (a TemperatureInterval) MarshalText() ([]byte, error) { return boundedText(a.Exact()) }

// UnmarshalText parses text as ParseTemperatureInterval does.
func (a *TemperatureInterval) UnmarshalText(text []byte) error {
	return into(a, text, ParseTemperatureInterval)
}

// MarshalJSON returns a.Exact as a JSON string.
func (a TemperatureInterval) MarshalJSON() ([]byte, error) { return jsonText(a.Exact()) }

// UnmarshalJSON parses a JSON string. For a value that may be null use a pointer.
func (a *TemperatureInterval) UnmarshalJSON(data []byte) error {
	return fromJSON(a, data, ParseTemperatureInterval)
}

// Value returns a.Exact, for a text column.
func (a TemperatureInterval) Value() (driver.Value, error) { return sqlText(a.Exact()) }

// Scan parses a text column. For a column that may be NULL use sql.Null.
func (a *TemperatureInterval) Scan(src any) error { return fromSQL(a, src, ParseTemperatureInterval) }

// LogValue returns a.Exact.
func (a TemperatureInterval) LogValue() slog.Value { return slog.StringValue(a.Exact()) }

// boundedText returns text unless it is too long to be parsed again.
func boundedText(text string) ([]byte, error) {
	if len(text) > maxText {
		return nil, fmt.Errorf("%s: %w; round it first", shorten(text), ErrTooLong)
	}
	return []byte(text), nil
}

// jsonText returns text as a JSON string. What the text of a quantity or an
// interval is made of needs no escape; < and > are left for the encoder, whose
// caller says whether they are escaped.
func jsonText(text string) ([]byte, error) {
	b, err := boundedText(text)
	if err != nil {
		return nil, err
	}
	return append(append([]byte{'"'}, b...), '"'), nil
}

func sqlText(text string) (driver.Value, error) {
	if _, err := boundedText(text); err != nil {
		return nil, err
	}
	return text, nil
}

// into parses text into dst, which an error leaves as it was. Of a text that is
// far too long only the beginning is copied.
func into[T any](dst *T, text []byte, parse func(string) (T, error)) error {
	if len(text) > maxText+1 {
		text = text[:maxText+1]
	}
	v, err := parse(string(text))
	if err != nil {
		return err
	}
	*dst = v
	return nil
}

// fromJSON parses a JSON string into dst.
func fromJSON[T any](dst *T, data []byte, parse func(string) (T, error)) error {
	if string(data) == "null" {
		return fmt.Errorf("JSON null: %w; unmarshal into a pointer for a value that may be missing", ErrNoUnit)
	}
	if len(data) > 0 && data[0] != '"' {
		return fmt.Errorf("JSON %s: %w; write a string with a number and a unit, such as \"60.012 mm\"", shorten(string(data)), ErrNoUnit)
	}
	const longest = 6*maxText + 2 // every byte of the longest text as \u0000, in quotes
	if len(data) > longest {
		return fmt.Errorf("a JSON string of %d bytes: %w; a quantity is written in at most %d", len(data), ErrTooLong, maxText)
	}
	var text string
	if err := json.Unmarshal(data, &text); err != nil {
		return err
	}
	return into(dst, []byte(text), parse)
}

// fromSQL parses a database value into dst.
func fromSQL[T any](dst *T, src any, parse func(string) (T, error)) error {
	switch src := src.(type) {
	case string:
		return into(dst, []byte(src), parse)
	case []byte:
		return into(dst, src, parse)
	case nil:
		return fmt.Errorf("NULL: %w; scan into a sql.Null for a value that may be missing", ErrNoUnit)
	}
	return fmt.Errorf("a database value of type %T: %w; keep quantities in a text column", src, ErrNoUnit)
}
