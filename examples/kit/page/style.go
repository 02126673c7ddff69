package page

import _ "embed"

// Style is the style sheet.
//
//go:embed style.css
var Style string
