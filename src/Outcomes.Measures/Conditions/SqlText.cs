using System.Collections.Immutable;

namespace Outcomes.Measures.Conditions;

/// <summary>An <see cref="Expression"/> as SQL for the engine, with brackets wherever they could matter.</summary>
internal static class SqlText
{
    public static string Of(Expression expression) => expression switch
    {
        Name x => Quote.Name(x.Value),
        Literal { Kind: Kind.Text } x => Quote.Text(x.Text),
        Literal { Kind: Kind.Date } x => $"DATE {Quote.Text(x.Text)}",
        Literal x => x.Text,
        Compare x => $"({Of(x.Left)} {x.Operator} {Of(x.Right)})",
        Logic x => "(" + string.Join(x.And ? " AND " : " OR ", x.Parts.Select(Of)) + ")",
        Not x => $"(NOT {Of(x.Operand)})",
        In x => $"({Of(x.Operand)} {(x.Negated ? "NOT IN" : "IN")} ({List(x.Options)}))",
        Between x => $"({Of(x.Operand)} BETWEEN {Of(x.Lower)} AND {Of(x.Upper)})",
        IsNull x => $"({Of(x.Operand)} IS {(x.Negated ? "NOT " : "")}NULL)",
        Arithmetic x => $"({Of(x.Left)} {x.Operator} {Of(x.Right)})",
        Negate x => $"(- {Of(x.Operand)})",
        Case x => "(CASE " + string.Join(" ", x.Branches.Select(branch => $"WHEN {Of(branch.When)} THEN {Of(branch.Then)}"))
            + (x.Otherwise is null ? "" : $" ELSE {Of(x.Otherwise)}") + " END)",
        Call x => $"{x.Function}({List(x.Arguments)})",
        _ => throw new InvalidOperationException($"No SQL for {expression.GetType().Name}."),
    };

    private static string List(ImmutableArray<Expression> items) => string.Join(", ", items.Select(Of));
}
