//go:build !windows

package app

// commands is the program for those who work without a window.
const commands = "grainstack"
