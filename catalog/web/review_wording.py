"""Every sentence of the pages of guide updates, review and publication, in one place."""

UPDATES = "Guide updates"
UPDATES_WHAT = "What came in, and how it stands. Nothing of an update is in the catalogue before it is published."
NO_UPDATES = "No guide update stands so."
WAITS = "What waits"
WAITS_NONE = "No guide update is open."
WAITS_FOR_YOU = "waits for you"
WAITS_SECOND = "waits for a second person"
WAITS_DECISION = "waits for decisions"
WAITS_PUBLISH = "can be published"
WAITS_SIGN_IN = "Sign in to see what waits for you."

STATES = {"open": "open", "published": "published", "set aside": "set aside"}
RECORD_STATES = ("open", "accepted", "accepted in part", "rejected", "published", "nothing left")
ONLY = {"critical": "safety-critical", "less": "less cautious", "moved": "moved on since"}
SORTS = {
    "newest": "newest first",
    "oldest": "oldest first",
    "name": "by name",
    "less cautious": "most less cautious first",
}
RECORD_SORTS = {"pressing": "most pressing first", "title": "by vehicle", "code": "by code", "changes": "most changes"}
ACTIONS = {"added": "new", "changed": "changed", "withdrawn": "do not use"}
ORIGINS = {"import": "file", "crew report": "crew report", "restore": "restoring", "page": "made on a page"}

CRITICAL = "Safety-critical"
CRITICAL_EACH = "each needs a decision and a second person"
OTHER = "Other"
OWN = "You brought this in or edited it: what is safety-critical in it is for another person, an approver."
ONLY_APPROVERS = "Safety-critical changes are for an approver."
MOVED = (
    "This record has moved on since the change was made. Below stands what is listed now beside what this update says; "
    "where both changed the same fact, what it was made against stands with it. Bring it up to what is listed, then "
    "decide. Nothing is lost."
)
MOVED_GONE = "This record was set to do not use since. There is nothing left that these changes could stand on."
BRING_UP = "Bring it up to what is listed now"

ACCEPT, REJECT, COMMENT, EDIT = "accept", "leave out", "comment", "edit"
ACCEPT_ALL = "Accept all of this record"
REJECT_ALL = "Leave this record out"
ACCEPT_REST = "Accept every record nobody decided of"
ACCEPT_REST_PLAIN = "Accept every record without safety-critical changes"
FINDINGS_WHAT = "fix in the file and bring it in again"
NO_FINDINGS = "Nothing was found in the file that needs a look."
NO_FINDINGS_HERE = "Nothing was found of this record."
FINDINGS_OF_RECORD = "Those of this record."

GATES = "Checks before publishing"
GATES_RUN = "Run the checks"
GATES_WHAT = (
    "Every check is of the catalogue as it would be, beside how it is: every record, every chain, what facts rest on, "
    "the watch list, and simulated descriptions. It takes some seconds and is stored."
)
NOTHING_ACCEPTED = "Nothing is accepted yet."
PUBLISH = "Publish as edition {number}"
PUBLISH_NOTE = "Note of the edition: what changes and why"
OVERRIDE = "Why to publish although a watched description finds its record no more"
BLOCKED = "Something is in the way."
LEFT_OPEN = "{count} records are not decided of. They stay open in this update."

BACK = "Go back to edition {number}"
BACK_WHAT = (
    "Publishes what edition {number} listed as the next edition. Nothing is lost: what was published since stays in "
    "the history. One approver may do this alone."
)
BACK_REASON = "Why"
BACK_DO = "Go back"

WATCH = "Watch list"
WATCH_WHAT = (
    "Descriptions that must go on finding their record. Each is weighed before every publication. Kept are the cues, "
    "never the words."
)
WATCH_NONE = "Nothing is watched yet. Add the descriptions your callers use for the vehicles you meet most."
WATCH_NONE_SUCH = "None with these words."
WATCH_SORTS = {"oldest": "oldest first", "newest": "newest first", "vehicle": "by vehicle"}
WATCH_TEXT = "Description, as a caller says it"
WATCH_END = "Watch no more"
WATCH_WHY = "Why it need not be found any more"
