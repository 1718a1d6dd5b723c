using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Records;

namespace Outcomes.Measures.Conditions;

/// <summary>
/// Checks names, types and coded values before anything runs, so that a misspelt value is an error at its line and not a
/// condition that is never true.
/// </summary>
internal static class TypeCheck
{
    /// <summary>The kind of value that it gives.</summary>
    public static Kind Of(Expression expression, Scope scope) => expression switch
    {
        Name x => (scope.Find(x.Value) ?? throw Unknown(x.Value, scope)).Kind,
        Literal x => x.Kind,
        Compare x => Comparison(scope, x.Operator is "=" or "<>", x.Left, x.Right),
        In x => Comparison(scope, true, [x.Operand, .. x.Options]),
        Between x => Comparison(scope, false, x.Operand, x.Lower, x.Upper),
        Logic x => All(scope, Kind.YesNo, "and/or", [.. x.Parts]),
        Not x => All(scope, Kind.YesNo, "not", x.Operand),
        IsNull x => Known(Of(x.Operand, scope)),
        Arithmetic x => All(scope, Kind.Number, x.Operator, x.Left, x.Right),
        Negate x => All(scope, Kind.Number, "-", x.Operand),
        Case x => CaseKind(x, scope),
        Call x => Same(scope, [.. x.Arguments]),
        _ => throw new InvalidOperationException($"No type for {expression.GetType().Name}."),
    };

    /// <summary>Texts that are compared with dates become dates, so that the engine never guesses.</summary>
    public static Expression WithDates(Expression expression, Scope scope)
    {
        return expression switch
        {
            Compare x => Dated([x.Left, x.Right]) is var d ? new Compare(x.Operator, d[0], d[1]) : x,
            In x => Dated([x.Operand, .. x.Options]) is var d ? new In(d[0], d[1..], x.Negated) : x,
            Between x => Dated([x.Operand, x.Lower, x.Upper]) is var d ? new Between(d[0], d[1], d[2]) : x,
            Logic x => new Logic(x.And, [.. x.Parts.Select(part => WithDates(part, scope))]),
            Not x => new Not(WithDates(x.Operand, scope)),
            _ => expression,
        };

        ImmutableArray<Expression> Dated(ImmutableArray<Expression> parts) => parts.Any(part => Of(part, scope) == Kind.Date)
            ? [.. parts.Select(part => part is Literal { Kind: Kind.Text } text ? new Literal(Kind.Date, text.Text) : part)]
            : parts;
    }

    public static string Word(Kind kind) => kind switch
    {
        Kind.YesNo => "yes or no",
        Kind.Number => "a number",
        Kind.Text => "text",
        Kind.Date => "a date",
        _ => "nothing",
    };

    public static ConditionError Unknown(string name, Scope scope)
    {
        var near = Nearest.Of(name, scope.Columns.Select(column => column.Name));
        return new ConditionError($"no field or derived column is called `{name}`"
            + (near is null ? "; `outcomes describe` lists them" : $"; did you mean `{near}`?"));
    }

    private static Kind Comparison(Scope scope, bool equality, params Expression[] parts)
    {
        var kinds = parts.Select(part => Of(part, scope)).ToArray();
        var kind = kinds.FirstOrDefault(k => k != Kind.Null, Kind.Null);
        if (kinds.Contains(Kind.Date))
            kind = Kind.Date;
        for (var i = 0; i < parts.Length; i++)
        {
            if (kind == Kind.Date && parts[i] is Literal { Kind: Kind.Text } day)
            {
                if (!DateOnly.TryParseExact(day.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _))
                    throw new ConditionError("a date is written as 'yyyy-mm-dd'");
                continue;
            }

            if (kinds[i] == Kind.Null)
                throw new ConditionError("a comparison with null is never true; write `is null` or `is not null`");
            if (kinds[i] != kind)
                throw new ConditionError($"it compares {Word(kind)} with {Word(kinds[i])}"
                    + (kinds.Contains(Kind.YesNo) ? "; a yes/no field stands alone, or after `not`" : ""));
        }

        if (kind == Kind.YesNo && !equality)
            throw new ConditionError("yes/no values have no order; use the field alone, or after `not`");
        var allowed = parts.OfType<Name>().Select(name => scope.Get(name.Value).Allowed).FirstOrDefault(values => !values.IsDefaultOrEmpty);
        if (kind == Kind.Text && !allowed.IsDefaultOrEmpty)
            foreach (var literal in parts.OfType<Literal>().Where(literal => !allowed.Contains(literal.Text)))
                throw new ConditionError($"'{literal.Text}' is no value of `{parts.OfType<Name>().First().Value}`"
                    + (Nearest.Of(literal.Text, allowed) is { } near
                        ? $"; did you mean '{near}'?"
                        : $"; its values are {string.Join(", ", allowed)}"));
        return Kind.YesNo;
    }

    private static Kind All(Scope scope, Kind kind, string operation, params Expression[] parts)
    {
        foreach (var part in parts)
            if (Of(part, scope) is var found && found != kind && found != Kind.Null)
                throw new ConditionError($"`{operation}` needs {Word(kind)}, but a part of it gives {Word(found)}");
        return kind;
    }

    private static Kind Same(Scope scope, params Expression[] parts)
    {
        var kind = parts.Select(part => Of(part, scope)).FirstOrDefault(k => k != Kind.Null, Kind.Null);
        return All(scope, kind, "case, coalesce, least or greatest", parts);
    }

    private static Kind CaseKind(Case x, Scope scope)
    {
        _ = All(scope, Kind.YesNo, "when", [.. x.Branches.Select(branch => branch.When)]);
        return Same(scope,
            [.. x.Branches.Select(branch => branch.Then), .. x.Otherwise is null ? Enumerable.Empty<Expression>() : [x.Otherwise]]);
    }

    private static Kind Known(Kind _) => Kind.YesNo;
}
