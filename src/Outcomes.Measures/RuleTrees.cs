using System.Globalization;
using System.Text.Json.Nodes;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>
/// Consistency rules as trees in JSON, for a page that judges a record before the tool sees it. They come from the parser that
/// the engine uses, so the two cannot read a condition differently. A node is a literal (number, text, true, false, null) or a
/// list of an operator and its parts: <c>["name", "spo2_min"]</c>, <c>["&lt;=", a, b]</c>, <c>["and", a, b, ...]</c>, <c>["null", a]</c>.
/// </summary>
public static class RuleTrees
{
    /// <summary>
    /// The rules of which <paramref name="knows"/> knows every name, in their order; what cannot be known is left to the tool.
    /// </summary>
    public static JsonArray Of(
        FieldDictionary dictionary, IReadOnlyList<DerivedColumn> derived, IReadOnlyList<ConsistencyRule> rules, Predicate<string> knows)
    {
        ArgumentNullException.ThrowIfNull(rules);
        using var connection = LockedConnection.Open([], threads: 1, memoryLimitMegabytes: 256);
        var definitions = Definitions.Build(connection, dictionary, derived);
        definitions.Add(rules);
        var trees = rules.Select(rule => (Rule: rule, Tree: definitions.Condition(rule.Expect)))
            .Select(item => (item.Rule, item.Tree, Names: Expressions.Names(item.Tree)))
            .Where(item => item.Names.All(name => knows(name)));
        return new JsonArray([.. trees.Select(item => new JsonObject
        {
            ["id"] = item.Rule.Id,
            ["title"] = item.Rule.Title,
            ["why"] = item.Rule.Why.ReplaceLineEndings(" ").Trim(),
            ["severity"] = item.Rule.Severity == Severity.Refuse ? "refuse" : item.Rule.Severity == Severity.Blank ? "blank" : "warn",
            ["names"] = new JsonArray([.. item.Names.Select(name => JsonValue.Create(name))]),
            ["expect"] = Node(item.Tree),
        })]);
    }

    private static JsonNode? Node(Expression expression) => expression switch
    {
        Name x => Call("name", JsonValue.Create(x.Value)),
        Literal { Kind: Kind.Null } => null,
        Literal { Kind: Kind.YesNo } x => JsonValue.Create(string.Equals(x.Text, "true", StringComparison.OrdinalIgnoreCase)),
        Literal { Kind: Kind.Number } x => JsonValue.Create(decimal.Parse(x.Text, NumberStyles.Float, CultureInfo.InvariantCulture)),
        Literal x => JsonValue.Create(x.Text),
        Compare x => Call(x.Operator, Node(x.Left), Node(x.Right)),
        Logic x => Call(x.And ? "and" : "or", [.. x.Parts.Select(Node)]),
        Not x => Call("not", Node(x.Operand)),
        In x => Negated(x.Negated, Call("in", [Node(x.Operand), .. x.Options.Select(Node)])),
        Between x => Call("between", Node(x.Operand), Node(x.Lower), Node(x.Upper)),
        IsNull x => Negated(x.Negated, Call("null", Node(x.Operand))),
        Arithmetic x => Call(x.Operator, Node(x.Left), Node(x.Right)),
        Negate x => Call("-", Node(x.Operand)),
        _ => throw new InvalidOperationException($"No tree for {expression.GetType().Name}."),
    };

    private static JsonArray Negated(bool negated, JsonArray inner) => negated ? Call("not", inner) : inner;

    private static JsonArray Call(string name, params JsonNode?[] parts) => new([JsonValue.Create(name), .. parts]);
}
