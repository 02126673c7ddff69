package layout

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// folders are the folders at the top of the tree, and no others are.
func folders() []string {
	return []string{".ci", "clearance", "examples", "fasteners", "grading", "internal", "torque", "units"}
}

func TestFolders(t *testing.T) {
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, e := range entries {
		if e.IsDir() {
			found = append(found, e.Name())
		}
	}
	for _, fault := range folderFaults(found) {
		t.Error(fault)
	}
}

func TestFolderFaults(t *testing.T) {
	tests := []struct {
		name   string
		change func([]string) []string
		faults []string
	}{
		{"as designed", func(f []string) []string { return f }, nil},
		{"with what is not kept", func(f []string) []string { return append(f, ".git", ".vscode", ".idea") }, nil},
		{"one more", func(f []string) []string { return append(f, "cmd") }, []string{"cmd is not one of the folders"}},
		{"one hidden more", func(f []string) []string { return append(f, ".tools") }, []string{".tools is not one of the folders"}},
		{"one less", func(f []string) []string { return slices.DeleteFunc(f, func(s string) bool { return s == "grading" }) }, []string{"grading is missing"}},
		{"one renamed", func(f []string) []string {
			return append(slices.DeleteFunc(f, func(s string) bool { return s == ".ci" }), "ci")
		},
			[]string{"ci is not one of the folders", ".ci is missing"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			faults := folderFaults(test.change(folders()))
			if !slices.EqualFunc(faults, test.faults, strings.HasPrefix) {
				t.Errorf("faults %q, want %q", faults, test.faults)
			}
		})
	}
}

func folderFaults(found []string) []string {
	notKept := []string{".git", ".idea", ".vscode"} // .gitignore holds the editors' out
	var faults []string
	for _, name := range found {
		if !slices.Contains(folders(), name) && !slices.Contains(notKept, name) {
			faults = append(faults, name+" is not one of the folders at the top: "+strings.Join(folders(), " "))
		}
	}
	for _, name := range folders() {
		if !slices.Contains(found, name) {
			faults = append(faults, name+" is missing at the top")
		}
	}
	return faults
}
