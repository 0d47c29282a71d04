"""Whether the figures of a motor's file agree with each other and with its thrust curve."""

from goodflight.project.curves import Curve
from goodflight.project.motor_files import MotorFile
from goodflight.project.sheets import Sheet


def check_figures(sheet: Sheet, head: MotorFile, curve: Curve | None) -> None:
    """Note masses, delays and an impulse that cannot be so."""
    if head.propellant.value >= head.loaded.value:
        wanted = f"less than the loaded mass, {head.loaded.text}"
        advice = "loaded is the whole motor ready to fly, propellant included"
        sheet.add(("propellant",), f'"{head.propellant.text}"', wanted, advice)
    if head.delay_out_allowed and head.delay is None:
        advice = "add delay, or remove delay_out_allowed for a plugged motor"
        sheet.add(
            ("delay_out_allowed",),
            "delay_out_allowed without a delay",
            "a delay to shorten",
            advice,
        )
    for i, out in enumerate(head.delay_out_allowed):
        if head.delay is not None and out.value > head.delay.value - 1e-9 and out.value > 0:
            wanted = f"less than the delay, {head.delay.text}"
            sheet.add(("delay_out_allowed", i), f'"{out.text}"', wanted, "remove it")
    if curve is None or head.impulse is None:
        return
    stated, area = head.impulse.value, curve.impulse_ns
    if abs(area - stated) > 0.1 * stated:
        wanted = f"about {area:.1f} N s, the area under the curve in the CSV file"
        advice = "check the curve's units and the label"
        sheet.add(("impulse",), f'"{head.impulse.text}"', wanted, advice)
