package walk

import (
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

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
	for _, question := range []struct {
		ask string
		to  *string
	}{
		{"Who pulls? Return: not said.", &w.by},
		{"With which tool? Return: not said.", &tool.Name},
		{"What is it set to? Return: not said.", &tool.Set},
		{"Which certificate has it? Return: not said.", &tool.Certificate},
	} {
		if question.to != &w.by && question.to != &tool.Name && tool.Name == "" {
			break
		}
		w.say("%s", question.ask)
		answer, ok := w.typed()
		if !ok {
			return false, nil
		}
		*question.to = answer
	}
	if tool.Name == "" {
		w.said = "No tool is recorded."
		return true, nil
	}
	return w.tell(w.ledger.UseTool(tool))
}
