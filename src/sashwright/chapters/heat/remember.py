"""Answers kept in memory by what they were worked out from, so that only what changed is worked out anew."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Answer = TypeVar("Answer")


class Remembered(Generic[Key, Answer]):
    """A function of one value, with its last answers.

    The value is the key, compared as a whole: any edit of it gives a new answer, and the same value the
    same one, whoever asks. The answers asked for longest ago are let go beyond ``most``.
    """

    def __init__(self, work_out: Callable[[Key], Answer], most: int) -> None:
        self._work_out, self._most = work_out, most
        self._answers: OrderedDict[Key, Answer] = OrderedDict()
        self._lock = Lock()

    def __call__(self, key: Key) -> Answer:
        with self._lock:
            if key in self._answers:
                self._answers.move_to_end(key)
                return self._answers[key]
        # Outside the lock: two who ask at once work it out twice, and neither waits for others.
        answer = self._work_out(key)
        with self._lock:
            self._answers[key] = answer
            while len(self._answers) > self._most:
                self._answers.popitem(last=False)
        return answer

    def __len__(self) -> int:
        return len(self._answers)

    def forget(self) -> None:
        """Let go of all answers."""
        with self._lock:
            self._answers.clear()
