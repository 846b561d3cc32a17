"""What the pages say about signing in, accounts and the trail."""

FORGED = "This form is older than the sign-in, or was not sent from a page of the catalogue."
FORGED_CURE = "Nothing was changed. Load the page again and send it once more."

SIGN_IN = "Sign in"
SIGN_OUT = "Sign out"
SIGNED_IN_AS = "Signed in as"
SIGN_IN_OTHER = "Signing in as somebody else signs this one out."
SIGN_IN_WHY = (
    "Records and steps are read without it, unless this site says otherwise. What is sent or changed is by name."
)
SIGN_IN_LOST = "A lost password is replaced by an administrator, with one for one use."
SIGN_OUT_EVERYWHERE = "Sign out everywhere"
SIGNED_IN_BY = {"page": "signed in on a page", "terminal": "signed in at a terminal", "token": "token"}
ACCOUNT_NAME = "Account name"
ACCOUNT_SHOWN = "Name to be shown (or leave it empty)"
ACCOUNT_SPELT = "2 to 40 lower-case letters a to z, digits, dots and hyphens. It is never used for anybody else."
ACCOUNT_ADD = "Add an account"
ACCOUNTS_WHAT = (
    "Whoever looks after accounts approves and publishes nothing. Two persons decide on what bears on safety: give "
    "nobody two accounts."
)
PASSWORD = "Password"
PASSWORD_CHANGE = "Change the password"
PASSWORD_CHOOSE = "Choose a password"
PASSWORD_ONE_TIME = "The password given was for one use. Nothing else can be done until another is chosen."
PASSWORD_GIVEN = "Password given"
PASSWORD_NOW = "Present password"
PASSWORD_NEW = "New password"
PASSWORD_AGAIN = "The same again"
PASSWORD_HOW = "12 characters or more, such as four words that nobody puts together."
PASSWORD_SET = "Set it"
PASSWORD_IS_SET = "The new password is set. Every other sign-in has ended."
ONE_TIME_OF = "One-time password of {name}"
ONE_TIME_ONCE = (
    "It is shown this once and kept nowhere. It holds for seven days and must be changed at the first sign-in."
)
ONE_TIME_MAKE = "New one-time password"
NOT_YET_CHOSEN = "no password chosen yet"
DISABLED_SINCE = "may not sign in since {day}"
THIS_IS_YOU = "this is you"
CHANGE = "Change"
ROLE = "Role"
ROLE_SET = "Set the role"
ENABLE = "Let sign in again"
DISABLE = "Disable"
TOKENS_TITLE = "Sign-ins and tokens"
TOKENS_WHAT = "what acts in your name now"
TOKEN_MAKE = "Make a token"
TOKEN_MADE = "The token"
TOKEN_ONCE = "It is shown this once and kept nowhere. A program sends it as: Authorization: Bearer TOKEN"
TOKEN_LABEL = "What it is for"
TOKEN_RIGHTS = "What it may do"
TOKEN_DAYS = "For how many days"
TOKEN_END = "End it"
SINCE_UNTIL = "since {since}, until {until} at the latest"
RIGHTS = {
    "read": "read records",
    "brief": "compose and send briefs",
    "update": "bring in guide updates, export",
    "doubt": "doubt a published fact",
    "approve": "approve and publish",
    "administer": "look after accounts, read the trail",
}
TRAIL_WHAT = (
    "Sign-ins, changes of accounts, and everything that changed the catalogue or was taken out of it. Each entry "
    "covers the one before it by a hash; none is ever changed or removed."
)
TRAIL_PERSON = "Person"
TRAIL_ACTION = "Action"
TRAIL_DAY = "Day (UTC)"
TRAIL_ANY = "any"
TRAIL_NONE = "Nothing like this was done."
TRAIL_NOBODY = "nobody signed in"
TRAIL_OUT = "Taking it out, and checking it"
TRAIL_FILE = "All of it, one JSON document a line"
TRAIL_CHECK = "Keep this hash elsewhere: it tells later whether the trail was rewritten or cut short."
VIA = {"page": "on a page", "terminal": "at a terminal", "token": "by a token"}
