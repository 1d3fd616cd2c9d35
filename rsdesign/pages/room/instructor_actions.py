"""What an instructor does in a room: set values, send a message, clear the wall, end teams."""

from ...core.choices import DesignError
from ..server.validation import action_of

NOT_AN_ACTION = "is not something an instructor can do here."


class SettingsError(DesignError):
    """Settings that cannot be taken; ``by_field`` holds a sentence for each."""

    def __init__(self, by_field: dict[str, str]):
        super().__init__(" ".join(by_field.values()))
        self.by_field = by_field


class InstructorActions:
    """The actions on a room's state, each a method ``_do_NAME`` that returns a sentence."""

    def __init__(self, room_state):
        self._state = room_state

    def handle(self, message) -> dict:
        """Do what a message asks: ``done`` with a sentence, or ``wrong`` with sentences by field.

        Raises ``DesignError`` where nothing was done.
        """
        action = action_of(self, message, NOT_AN_ACTION)
        try:
            done = action(message)
        except SettingsError as error:
            return {"wrong": error.by_field}
        self._state.announce_changes(settings=message["do"] in ("set", "prices", "say"))
        return {"done": done}

    def _do_set(self, message: dict) -> str:
        wrong = self._state.settings.change(message)
        if wrong:
            raise SettingsError(wrong)
        return "Set. Pages that open from now on start so. Open pages ask whether to take it."

    def _do_prices(self, message: dict) -> str:
        count = self._state.settings.read_prices(message.get("text"))
        return f"{count} prices taken from the file."

    def _do_say(self, message: dict) -> str:
        settings = self._state.settings
        settings.say(message.get("text"))
        return "Shown on every page." if settings.message else "The message is gone."

    def _do_clear(self, message: dict) -> str:
        count = self._state.wall.clear(str(message.get("team") or ""))
        return f"{count} taken from the wall."

    def _do_clear_submissions(self, message: dict) -> str:
        count = self._state.submissions.clear()
        return f"{count} file{'' if count == 1 else 's'} of work thrown away."

    def _do_end_teams(self, message: dict) -> str:
        empty_only, name = message.get("all") is not True, str(message.get("team") or "")
        count = self._state.teams.end(empty_only, name)
        return f"{count} team{'' if count == 1 else 's'} ended."
