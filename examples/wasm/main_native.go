//go:build !wasip1

package main

func main() {}
