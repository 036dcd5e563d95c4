"""From the layers inside the blade to one window, heat, medium, temper. Imports diffusion and below."""
