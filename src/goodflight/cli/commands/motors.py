"""`goodflight motors`: every motor of the folder on this rocket and field."""

from goodflight.cli.question import Question

QUESTION = Question(
    name="motors",
    place=60,
    help="Which of your motors this rocket may fly here, and how likely each is to fail.",
    asks="Which of my motors may it fly here, how likely, what would the next level need?",
    how="motors DIR",
    function="studies.questions.motors:motors",
    text="outputs.motors.text:motors_text",
    record="outputs.record:record",
    result="studies.motor_results:MotorStudy",
    flights=2000,
    each="with each motor",
)
