package walk

import (
	"fmt"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// ParseTool reads what somebody says of a tool. What it is set to is a torque with its unit, or empty if
// nobody said: a bare number could be any torque.
func ParseTool(name, set, certificate string) (ledger.Tool, error) {
	tool := ledger.Tool{Name: strings.TrimSpace(name), Set: strings.TrimSpace(set), Certificate: strings.TrimSpace(certificate)}
	if tool.Set == "" {
		return tool, nil
	}
	if _, err := units.ParseTorque(tool.Set); err != nil {
		return ledger.Tool{}, err
	}
	return tool, nil
}

// SetWrong says that a tool is recorded as set to another torque than a step asks for: one outside the plan's
// limits or, where it states none, outside what ISO 6789-1 allows the tool. An extension can make that
// right, so it holds nothing. It is empty if the setting fits, or if nobody said one.
func SetWrong(tool *ledger.Tool, step torque.Step) string {
	tighten, tightens := torque.As[torque.Tighten](step.Do)
	if tool == nil || !tightens {
		return ""
	}
	set, err := units.ParseTorque(tool.Set)
	if err != nil { // a ledger may hold any text
		return ""
	}
	allowed := tighten.Within
	if allowed.IsEmpty() {
		if allowed, _, err = ofTool(tighten.To); err != nil {
			return ""
		}
	}
	if allowed.Contains(set) {
		return ""
	}
	return fmt.Sprintf("%s is recorded as set to %s, and step %d is: %s. Set it to that, and record the tool again; only an extension can make another setting right.", tool.Name, tool.Set, step.Number, step.Do)
}

// needsTool reports whether the tool is asked for: once, before the first pull that a ledger
// without a tool comes to. After a slip the ledger itself asks for it.
func (w *walker) needsTool(step torque.Step) bool {
	if w.asked || step.IsPause() {
		return false
	}
	w.asked = true
	_, entries, err := ledger.Read(w.Home, w.Work)
	return err == nil && ToolOf(entries) == nil
}

// tool asks what the bolts are pulled with, and by whom.
func (w *walker) tool() (again bool, err error) {
	w.head()
	var tool ledger.Tool
	who, was := "Who pulls? Return: not said.", w.by
	if was != "" {
		who = "Who pulls? Return: still " + was + "."
	}
	for _, question := range []struct {
		ask string
		to  *string
	}{
		{who, &w.by},
		{"With which tool? Return: not said.", &tool.Name},
		{"What is it set to, as \"30 N·m\"? Return: not said.", &tool.Set},
		{"Which certificate has it? Return: not said.", &tool.Certificate},
	} {
		if question.to != &w.by && question.to != &tool.Name && tool.Name == "" {
			break
		}
		w.say("%s", question.ask)
		for {
			answer, ok := w.typed()
			if !ok {
				return false, nil
			}
			*question.to = answer
			said, err := ParseTool(tool.Name, tool.Set, tool.Certificate)
			if err == nil {
				tool = said
				break
			}
			w.say("%v", err)
		}
	}
	if w.by == "" {
		w.by = was
	}
	if tool.Name == "" {
		w.said = "No tool is recorded."
		return true, nil
	}
	return w.tell(w.ledger.UseTool(tool))
}
