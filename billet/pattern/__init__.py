"""The solid bar as a chain of maps, and what a cut through it shows; draws from forging and diffusion."""
