package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"example.com/closefit/examples/kit/ask"
)

// An object of the schema keeps the order of its keys.
type object []pair

type pair struct {
	key   string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, p := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:", p.key)
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		if err := e.Encode(p.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// json writes the schema of a set, in a file of that name.
func (m *maker) json(set ask.Set, title, name string) ([]byte, error) {
	definitions := object{}
	for _, s := range m.order {
		definitions = append(definitions, pair{s.name, s.definition()})
	}
	ref := func(t reflect.Type) object { return m.made[t].json() }
	version := pair{"closefit", object{{"const", 1}}}
	closed := func(keys ...pair) object {
		var names []string
		for _, k := range keys {
			names = append(names, k.key)
		}
		return object{{"type", "object"}, {"properties", object(keys)}, {"required", names}, {"additionalProperties", false}}
	}
	var questions, answers []object
	for _, q := range set {
		questions = append(questions, append(object{{"description", q.Does}}, closed(version, pair{"question", object{{"const", q.Name}}}, pair{"with", ref(q.Request)})...))
		answers = append(answers, ref(q.Reply))
	}
	definitions = append(definitions,
		pair{"Question", object{{"description", "a document that asks"}, {"oneOf", questions}}},
		pair{"Reply", object{{"description", "a document that answers"}, {"oneOf", []object{
			closed(version, pair{"answer", object{{"anyOf", answers}}}),
			closed(version, pair{"error", ref(reflect.TypeFor[ask.Refusal]())}),
		}}}})
	return object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "https://example.com/closefit/" + name},
		{"title", "closefit: " + title},
		{"$ref", "#/$defs/Question"},
		{"$defs", definitions},
	}.indented()
}

// indented writes an object for people to read.
func (o object) indented() ([]byte, error) {
	text, err := o.MarshalJSON()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", "  "); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// json is a shape where it is used.
func (s *shape) json() object {
	var o object
	if s.name != "" {
		o = object{{"$ref", "#/$defs/" + s.name}}
	} else {
		o = s.definition()
	}
	if s.none {
		return object{{"anyOf", []object{o, {{"type", "null"}}}}}
	}
	return o
}

// definition is a shape by itself, never null.
func (s *shape) definition() (o object) {
	if s.says != "" {
		o = object{{"description", s.says}}
	}
	switch s.of {
	case "text":
		o = append(o, pair{"type", "string"})
		if s.words != nil {
			o = append(o, pair{"enum", s.words})
		}
		if s.match != "" {
			o = append(o, pair{"pattern", s.match})
		}
	case "list":
		o = append(o, pair{"type", "array"}, pair{"items", s.list.json()})
	case "map":
		o = append(o, pair{"type", "object"}, pair{"additionalProperties", s.list.json()})
	case "any":
	case "one of":
		var kinds []object
		for _, k := range s.kinds {
			kinds = append(kinds, k.json())
		}
		o = append(o, pair{"oneOf", kinds})
	case "object":
		keys, names := object{}, []string{}
		for _, k := range s.keys {
			v := k.shape.json()
			if k.says != "" {
				v = append(object{{"description", k.says}}, v...)
			}
			keys, names = append(keys, pair{k.name, v}), append(names, k.name)
		}
		if o = append(o, pair{"type", "object"}, pair{"properties", keys}); !s.optional {
			o = append(o, pair{"required", names})
		}
		o = append(o, pair{"additionalProperties", false})
	default:
		o = append(o, pair{"type", s.of})
	}
	return o
}

func (m *maker) typescript(set ask.Set) []byte {
	var b bytes.Buffer
	b.WriteString("// The questions that closefit answers, and their answers. Made from its Go types.\n")
	for _, s := range m.order {
		b.WriteByte('\n')
		comment(&b, "", s.says)
		switch s.of {
		case "object":
			fmt.Fprintf(&b, "export interface %s {\n", s.name)
			for _, k := range s.keys {
				comment(&b, "  ", k.says)
				fmt.Fprintf(&b, "  %s: %s;\n", k.name, k.shape.typescript())
			}
			b.WriteString("}\n")
		case "one of":
			var kinds []string
			for _, k := range s.kinds {
				kinds = append(kinds, k.typescript())
			}
			fmt.Fprintf(&b, "export type %s = %s;\n", s.name, strings.Join(kinds, " | "))
		default:
			fmt.Fprintf(&b, "export type %s = %s;\n", s.name, s.plain())
		}
	}
	b.WriteString("\n/** The questions by name: what each asks with, and its answer. */\nexport interface Questions {\n")
	for _, q := range set {
		comment(&b, "  ", q.Does)
		fmt.Fprintf(&b, "  %s: { with: %s; answer: %s };\n", keyOf(q.Name), m.made[q.Request].typescript(), m.made[q.Reply].typescript())
	}
	b.WriteString("}\n")
	return b.Bytes()
}

func keyOf(name string) string {
	if strings.Contains(name, " ") {
		return fmt.Sprintf("%q", name)
	}
	return name
}

// typescript is a shape where it is used.
func (s *shape) typescript() string {
	text := s.name
	if text == "" {
		text = s.plain()
	}
	if s.none {
		text += " | null"
	}
	return text
}

func (s *shape) plain() string {
	switch {
	case s.words != nil:
		var words []string
		for _, w := range s.words {
			words = append(words, fmt.Sprintf("%q", w))
		}
		return strings.Join(words, " | ")
	case s.of == "list":
		of := s.list.typescript()
		if strings.Contains(of, " ") {
			of = "(" + of + ")"
		}
		return of + "[]"
	case s.of == "map":
		return "Record<string, " + s.list.typescript() + ">"
	case s.of == "text":
		return "string"
	case s.of == "integer":
		return "number"
	}
	return s.of
}

func comment(b *bytes.Buffer, indent, text string) {
	if text == "" {
		return
	}
	lines := strings.Split(strings.ReplaceAll(text, "*/", "* /"), "\n")
	if len(lines) == 1 {
		fmt.Fprintf(b, "%s/** %s */\n", indent, lines[0])
		return
	}
	fmt.Fprintf(b, "%s/**\n", indent)
	for i, l := range lines {
		if i > 0 {
			fmt.Fprintf(b, "%s *\n", indent)
		}
		fmt.Fprintf(b, "%s * %s\n", indent, l)
	}
	fmt.Fprintf(b, "%s */\n", indent)
}
