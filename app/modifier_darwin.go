package app

// controlKey is how the key is written that goes with a letter for a command.
const controlKey = "Cmd"
