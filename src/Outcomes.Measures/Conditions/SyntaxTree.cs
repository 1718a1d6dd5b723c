using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace Outcomes.Measures.Conditions;

/// <summary>What is wrong with a condition; its owner adds file and line.</summary>
internal sealed class ConditionError(string message) : Exception(message);

/// <summary>
/// Turns the tree that the engine's own parser gives (as JSON) into an <see cref="Expression"/>, and lets nothing through
/// but the portable subset. The engine then runs text made from this tree, never the text that was written.
/// </summary>
internal static class SyntaxTree
{
    private const string Subset = "use fields, values, = <> < <= > >=, and, or, not, in, between, is null, + - * / and parentheses";

    private static readonly JsonDocumentOptions Deep = new() { MaxDepth = 512 };

    /// <param name="json">The parser's answer to <c>SELECT (condition)</c>.</param>
    /// <param name="shipped">True for shipped derived columns, which may also use case, coalesce, least and greatest.</param>
    public static Expression Read(string json, bool shipped)
    {
        using var document = Parse(json);
        var root = document.RootElement;
        if (root.GetProperty("error").GetBoolean())
            throw new ConditionError("it cannot be read: look for an unclosed quote or bracket, or a missing operator; " + Subset);
        var statements = root.GetProperty("statements");
        if (statements.GetArrayLength() != 1)
            throw Outside("several statements");
        var node = statements[0].GetProperty("node");
        // Whatever was written stands between our own brackets: anything but one bare expression tried to leave them.
        if (Text(node, "type") != "SELECT_NODE" || node.GetProperty("select_list").GetArrayLength() != 1
            || Text(node.GetProperty("from_table"), "type") != "EMPTY" || node.GetProperty("where_clause").ValueKind != JsonValueKind.Null
            || node.GetProperty("modifiers").GetArrayLength() != 0 || node.GetProperty("group_expressions").GetArrayLength() != 0
            || node.GetProperty("having").ValueKind != JsonValueKind.Null || node.GetProperty("qualify").ValueKind != JsonValueKind.Null
            || node.GetProperty("sample").ValueKind != JsonValueKind.Null
            || node.GetProperty("cte_map").GetProperty("map").GetArrayLength() != 0)
            throw Outside("a query");
        return Expression(node.GetProperty("select_list")[0], shipped);
    }

    private static JsonDocument Parse(string json)
    {
        try
        {
            return JsonDocument.Parse(json, Deep);
        }
        catch (JsonException)
        {
            throw new ConditionError("it is nested too deeply; split it");
        }
    }

    private static Expression Expression(JsonElement e, bool shipped)
    {
        if (Text(e, "alias") is { Length: > 0 })
            throw Outside("a name given with `as`");
        var type = Text(e, "type");
        return Text(e, "class") switch
        {
            "COLUMN_REF" => Column(e),
            "CONSTANT" => Constant(e.GetProperty("value")),
            "COMPARISON" => new Compare(Operator(type), Part(e, "left", shipped), Part(e, "right", shipped)),
            "CONJUNCTION" => new Logic(type == "CONJUNCTION_AND", Children(e, shipped)),
            "BETWEEN" => new Between(Part(e, "input", shipped), Part(e, "lower", shipped), Part(e, "upper", shipped)),
            "CAST" => TrueOrFalse(e),
            "OPERATOR" => OperatorNode(e, type, shipped),
            "FUNCTION" => Function(e, shipped),
            "CASE" when shipped => CaseNode(e),
            "CASE" => throw Outside("`case`"),
            "SUBQUERY" => throw Outside("a subquery"),
            "PARAMETER" => throw Outside("a parameter"),
            _ => throw Outside("something else"),
        };
    }

    private static Name Column(JsonElement e)
    {
        var names = e.GetProperty("column_names");
        return names.GetArrayLength() == 1 ? new Name(names[0].GetString()!) : throw Outside("a name with a dot");
    }

    private static Literal Constant(JsonElement value)
    {
        var type = value.GetProperty("type");
        var id = Text(type, "id");
        if (value.GetProperty("is_null").GetBoolean())
            return new Literal(Kind.Null, "NULL");
        var content = value.GetProperty("value");
        return id switch
        {
            "VARCHAR" => new Literal(Kind.Text, content.GetString()!),
            "BOOLEAN" => new Literal(Kind.YesNo, content.GetBoolean() ? "true" : "false"),
            "DECIMAL" when content.ValueKind == JsonValueKind.Number =>
                new Literal(Kind.Number, Shift(content.GetInt64(), type.GetProperty("type_info").GetProperty("scale").GetInt32())),
            "INTEGER" or "BIGINT" or "DOUBLE" when content.ValueKind == JsonValueKind.Number =>
                new Literal(Kind.Number, content.GetRawText()),
            _ => throw Outside("a value that is no text, number, true or false"),
        };
    }

    private static string Shift(long digits, int scale)
    {
        var value = (decimal)digits;
        for (var i = 0; i < scale; i++)
            value /= 10;
        return value.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>The parser writes the words true and false as a cast of a letter; no other cast is allowed.</summary>
    private static Literal TrueOrFalse(JsonElement e)
    {
        var child = e.GetProperty("child");
        if (Text(e.GetProperty("cast_type"), "id") == "BOOLEAN" && Text(child, "class") == "CONSTANT"
            && child.GetProperty("value") is var value && Text(value.GetProperty("type"), "id") == "VARCHAR"
            && value.GetProperty("value").GetString() is "t" or "f")
            return new Literal(Kind.YesNo, value.GetProperty("value").GetString() == "t" ? "true" : "false");
        throw Outside("a cast, or `is true`; for yes/no fields write the field, or `not` and the field");
    }

    private static Expression OperatorNode(JsonElement e, string type, bool shipped)
    {
        var children = Children(e, shipped);
        return type switch
        {
            "OPERATOR_NOT" => new Not(children[0]),
            "OPERATOR_IS_NULL" => new IsNull(children[0], false),
            "OPERATOR_IS_NOT_NULL" => new IsNull(children[0], true),
            "COMPARE_IN" => new In(children[0], children[1..], false),
            "COMPARE_NOT_IN" => new In(children[0], children[1..], true),
            "OPERATOR_COALESCE" when shipped => new Call("coalesce", children),
            "OPERATOR_COALESCE" => throw Outside("the function `coalesce`"),
            _ => throw Outside("an operator"),
        };
    }

    private static Expression Function(JsonElement e, bool shipped)
    {
        var name = Text(e, "function_name");
        if (e.GetProperty("is_operator").GetBoolean())
            return (name, Children(e, shipped)) switch
            {
                ("-", [var operand]) => new Negate(operand),
                ("+", [var operand]) => operand,
                ("+" or "-" or "*" or "/", [var left, var right]) => new Arithmetic(name, left, right),
                ("~~" or "!~~", _) => throw Outside("`like`; list the values with `in`"),
                _ => throw Outside($"the operator `{name}`"),
            };
        return shipped && name is "least" or "greatest" ? new Call(name, Children(e, shipped)) : throw Outside($"the function `{name}`");
    }

    private static Case CaseNode(JsonElement e) => new(
        [.. e.GetProperty("case_checks").EnumerateArray()
            .Select(check => (Part(check, "when_expr", true), Part(check, "then_expr", true)))],
        Part(e, "else_expr", true));

    private static string Operator(string type) => type switch
    {
        "COMPARE_EQUAL" => "=",
        "COMPARE_NOTEQUAL" => "<>",
        "COMPARE_LESSTHAN" => "<",
        "COMPARE_LESSTHANOREQUALTO" => "<=",
        "COMPARE_GREATERTHAN" => ">",
        "COMPARE_GREATERTHANOREQUALTO" => ">=",
        _ => throw Outside("`is true`, `is false` or `is distinct from`; for yes/no fields write the field, or `not` and the field"),
    };

    private static ImmutableArray<Expression> Children(JsonElement e, bool shipped) =>
        [.. e.GetProperty("children").EnumerateArray().Select(child => Expression(child, shipped))];

    private static Expression Part(JsonElement e, string name, bool shipped) => Expression(e.GetProperty(name), shipped);

    private static string Text(JsonElement e, string name) => e.GetProperty(name).GetString() ?? "";

    private static ConditionError Outside(string what) => new($"it uses {what}, which is outside the portable subset; {Subset}");
}
