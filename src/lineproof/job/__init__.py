"""Job: the job as values, from the walk to the line graph, parts, people and progress."""
