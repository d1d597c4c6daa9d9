"""The screens. Each shows an answer and calls actions, nothing else."""
