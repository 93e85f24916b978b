package app

// commands is the program for those who work without a window: the one with a window can't write to a prompt.
const commands = "grainstack-commands"
