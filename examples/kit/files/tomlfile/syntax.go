package tomlfile

import (
	"fmt"
	"regexp"
	"strings"
)

// mostFaults is how many lines that are not TOML are told of.
const mostFaults = 20

// heading and assignment are the two things that a line may be.
var (
	heading    = regexp.MustCompile(`^(\[\[?)([^\[\]]*)(\]?\]?)$`)
	assignment = regexp.MustCompile(`^("[^"]*"|[^"=:{\[]+?)\s*([=:])\s*(.*?)\s*$`)
	bareKey    = regexp.MustCompile(`^[A-Za-z0-9_-]+$`)
	rune4      = regexp.MustCompile(`U\+[0-9A-F]+ '(.*)'`)
	member     = regexp.MustCompile(`([A-Za-z0-9_-]+(?: [A-Za-z0-9_-]+)+)\s*=`)
)

// notClosed is what is wrong with a list.
const notClosed = "a list or a table in braces is not closed before here, or a comma is missing in it; write ] or } at its end, and a comma between its parts"

// inWords says what is wrong with a line that is not TOML, of which the parser says the
// message.
func inWords(message, line string) string {
	text := uncommented(line)
	switch {
	case strings.ContainsAny(text, "“”„‟″‘’"):
		return `a quotation mark of print; write the straight one, "`
	case strings.Contains(message, "nested more"):
		return "lists in lists without end; look where one is not closed"
	case strings.Contains(message, "expected ',' or") && balanced(text):
		return "a comma is missing between two parts of a list or a table in braces; write one"
	case strings.Contains(message, "incomplete") || strings.Contains(message, "expected ',' or"):
		return notClosed
	case strings.Contains(message, "terminated") || strings.Contains(message, "cannot have new lines"):
		return `a text without its closing quotation mark; write " at its end`
	case strings.Contains(message, "escape"):
		return `a backslash means something of its own in a text; write \\ for one`
	case strings.Contains(message, "UTF-8"):
		return "a letter that is not in UTF-8; save the file again as UTF-8"
	}
	if h := heading.FindStringSubmatch(text); h != nil {
		return headingInWords(h)
	}
	if a := assignment.FindStringSubmatch(text); a != nil {
		key, sign, value := strings.TrimSpace(a[1]), a[2], strings.TrimSuffix(a[3], ",")
		written := bareOrQuoted(key)
		switch quoted := strings.HasPrefix(value, `"`) || strings.HasPrefix(value, `'`); {
		case value == "":
			return fmt.Sprintf(`nothing after it; write %s = "...", or "?" for a reading that was not taken`, written)
		case !quoted && !strings.ContainsAny(value[:1], "[{") && !strings.Contains(value, `"`):
			return fmt.Sprintf("%s, without quotes; write %s = %q", value, written, value)
		case sign == ":" || written != key:
			return fmt.Sprintf("a key that cannot be read; write %s = %s", written, value)
		case quoted && strings.Count(value, `"`) > 2:
			return "more after the text; write one text in one pair of quotes, and one key a line"
		case quoted:
			return notClosed // there is nothing wrong with the line itself
		}
		if m := member.FindStringSubmatch(value); m != nil {
			return fmt.Sprintf("a name with a blank in it stands in quotes; write %q = ...", m[1])
		}
	} else if bareKey.MatchString(text) || regexp.MustCompile(`^[\pL\pN _-]+$`).MatchString(text) && text != "" {
		return fmt.Sprintf(`%s, and no = after it; write %s = "...", or # before what is only a remark`, text, bareOrQuoted(text))
	}
	if m := member.FindStringSubmatch(text); m != nil && strings.Contains(message, "'=' after key") {
		return fmt.Sprintf("a name with a blank in it stands in quotes; write %q = ...", m[1])
	}
	if strings.Contains(message, "start of value") || strings.Contains(message, "expected value") || strings.Contains(message, "must be quoted") ||
		strings.Contains(message, "expected keyword") || strings.Contains(message, "decimal point") || strings.Contains(message, "zeroes") || strings.Contains(message, "after sign") {
		return "a value that is neither a number nor a text in quotes; write a text and a quantity in quotes, as in \"0.05 mm\""
	}
	return "it cannot be read here: " + rune4.ReplaceAllString(message, `"$1"`) + `; write key = "text", one a line`
}

// balanced reports whether every bracket and brace that a line opens it closes, outside of
// texts.
func balanced(line string) bool {
	open, quoted := 0, false
	for _, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '[' || c == '{':
			open++
		case c == ']' || c == '}':
			open--
		}
	}
	return open == 0 && strings.ContainsAny(line, "[{")
}

// headingInWords says what is wrong with a heading, of which the parts are its opening
// brackets, its name and its closing brackets.
func headingInWords(h []string) string {
	var parts []string
	for _, part := range dotted(h[2]) {
		parts = append(parts, bareOrQuoted(part))
	}
	right := h[1] + strings.Join(parts, ".") + strings.ReplaceAll(h[1], "[", "]")
	if right == h[0] {
		return notClosed // there is nothing wrong with the heading itself
	}
	return "a heading that cannot be read; write " + right
}

// dotted takes a name apart at its dots, those in quotes left.
func dotted(name string) (parts []string) {
	quoted, from := false, 0
	for i, c := range name {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '.' && !quoted:
			parts, from = append(parts, name[from:i]), i+1
		}
	}
	return append(parts, name[from:])
}

// bareOrQuoted writes a name as a key: in quotes where it needs them.
func bareOrQuoted(name string) string {
	name = strings.Trim(strings.TrimSpace(name), `"`)
	if bareKey.MatchString(name) {
		return name
	}
	return fmt.Sprintf("%q", name)
}

// uncommented is a line without its comment and the blanks around it.
func uncommented(line string) string {
	quoted := false
	for i, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '#' && !quoted:
			return strings.TrimSpace(line[:i])
		}
	}
	return strings.TrimSpace(line)
}

// lineAt is the text of a line, counted from 1.
func lineAt(src []byte, line int) string {
	all := strings.Split(string(src), "\n")
	if line < 1 || line > len(all) {
		return ""
	}
	return all[line-1]
}
