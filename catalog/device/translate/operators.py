"""Operators as JavaScript: plain where both sides are numbers for certain, else the runtime asks what they are."""

import ast

from catalog.device.translate.names import js
from catalog.device.translate.values import Values
from catalog.device.translate.writer import is_not, is_number, is_plain, is_text

_COMPARE = {ast.Lt: "lt", ast.LtE: "le", ast.Gt: "gt", ast.GtE: "ge"}
_PLAIN = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
_BINARY = {
    ast.Add: "add", ast.Sub: "sub", ast.Mult: "mul", ast.BitOr: "bitor", ast.BitAnd: "bitand", ast.BitXor: "bitxor",
    ast.Div: "div", ast.FloorDiv: "floordiv", ast.Mod: "mod", ast.Pow: "pow", ast.MatMult: "matmul",
}  # fmt: skip
_NUMBERS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*"}


class Operators(Values):
    """Writes operators and comparisons."""

    __slots__ = ()

    def _boolop(self, node: ast.BoolOp) -> str:
        first, *rest = node.values
        made = self.expr(first)
        for value in rest:
            if self._gives_boolean(node.values[0]) and self._gives_boolean(value):
                made = f"({made} {'&&' if isinstance(node.op, ast.And) else '||'} {self.expr(value)})"
            else:
                made = f"py.{'and' if isinstance(node.op, ast.And) else 'or'}({made}, () => {self.expr(value)})"
        return made

    def _gives_boolean(self, node: ast.expr) -> bool:
        if isinstance(node, ast.BoolOp):
            return all(map(self._gives_boolean, node.values))
        return isinstance(node, ast.Compare) or self._is_boolean(node) or is_not(node)

    def _unaryop(self, node: ast.UnaryOp) -> str:
        if isinstance(node.op, ast.Not):
            return f"!{self.cond(node.operand)}"
        if isinstance(node.op, ast.USub):
            operand = self.expr(node.operand)
            return f"py.neg({operand})" if self.vectors and not is_number(node.operand) else f"-{operand}"
        if isinstance(node.op, ast.Invert):
            return f"py.invert({self.expr(node.operand)})"
        raise self.refuse(node, "this sign")

    def _binop(self, node: ast.BinOp) -> str:
        left, right = self.expr(node.left), self.expr(node.right)
        if isinstance(node.op, ast.LShift | ast.RShift):
            return f"({left} {'<<' if isinstance(node.op, ast.LShift) else '>>'} {right})"
        kind = type(node.op)
        if kind in _NUMBERS and is_number(node) and not self.vectors:
            return f"({left} {_NUMBERS[kind]} {right})"
        if kind is ast.Add and (is_text(node.left) or is_text(node.right)):
            return f"({left} + {right})"
        if kind not in _BINARY:
            raise self.refuse(node, "this operator")
        return f"py.{_BINARY[kind]}({left}, {right})"

    def _compare(self, node: ast.Compare) -> str:
        values = [node.left, *node.comparators]
        for middle in values[1:-1]:
            if not isinstance(middle, ast.Name | ast.Constant | ast.Attribute | ast.Call | ast.Subscript | ast.BinOp):
                raise self.refuse(node, "a chain of comparisons over this")
        pairs = [self._compared(left, op, right) for left, op, right in zip(values, node.ops, values[1:], strict=False)]
        return pairs[0] if len(pairs) == 1 else "(" + " && ".join(pairs) + ")"

    def _compared(self, left: ast.expr, op: ast.cmpop, right: ast.expr) -> str:
        a, b = self.expr(left), self.expr(right)
        match op:
            case ast.Is() | ast.IsNot():
                same = "==" if isinstance(op, ast.Is) else "!="
                # Nothing returned is undefined here and None there.
                return f"({a} {same}{'' if b == 'null' else '='} {b})"
            case ast.Eq() | ast.NotEq() if self.vectors:
                return f"py.{'same' if isinstance(op, ast.Eq) else 'other'}({a}, {b})"
            case ast.Eq() | ast.NotEq():
                if is_plain(left) or is_plain(right):
                    return f"({a} {'===' if isinstance(op, ast.Eq) else '!=='} {b})"
                return f"{'' if isinstance(op, ast.Eq) else '!'}py.eq({a}, {b})"
            case ast.In() | ast.NotIn():
                no = "" if isinstance(op, ast.In) else "!"
                if isinstance(right, ast.Tuple | ast.Set | ast.List) and all(map(is_plain, right.elts)):
                    return f"{no}[{', '.join(map(self.expr, right.elts))}].includes({a})"
                return f"{no}py.in({a}, {b})"
        if (is_number(left) or is_number(right)) and not self.vectors:
            return f"({a} {_PLAIN[type(op)]} {b})"
        return f"py.{_COMPARE[type(op)]}({a}, {b})"

    def _ifexp(self, node: ast.IfExp) -> str:
        return f"({self.cond(node.test)} ? {self.expr(node.body)} : {self.expr(node.orelse)})"

    def _namedexpr(self, node: ast.NamedExpr) -> str:
        return f"({js(node.target.id)} = {self.expr(node.value)})"
