"""Questions of the last hour: the plan under the weather and the choices of now."""
