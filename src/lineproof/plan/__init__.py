"""Plan: pieces and sticks, materials, order and days."""
