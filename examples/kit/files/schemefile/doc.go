// Package schemefile reads and writes a grading scheme as TOML text, so that a
// scheme can lie beside the job that uses it:
//
//	name = "pump-set mains"
//	source = "invented for this example"
//	limits = "0.024..0.048 mm"
//
//	[[housing]]
//	code = "A"
//	shell = "red"
//	size = "64.000..64.006 mm"
//
//	[[journal]]
//	code = "1"
//	shell = "blue"
//
//	[[shell]]
//	grade = "red"
//	half = "upper"
//	wall = "2.000..2.003 mm"
//
// The keys are those of the fields of grading.Scheme. Reading is strict, as
// package tomlfile reads: a key that no scheme has is an error with its line and
// the nearest key that there is.
//
// The package stands apart from package grading so that whoever embeds grading
// needs no TOML library.
package schemefile
