package main

import "context"

func window(ctx context.Context, args []string) error {
	return nil
}
