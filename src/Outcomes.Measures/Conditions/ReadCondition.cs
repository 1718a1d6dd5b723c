using System.Collections.Immutable;

namespace Outcomes.Measures.Conditions;

/// <summary>A condition that a person wrote, read by the engine's own parser and checked.</summary>
/// <param name="Text">The condition as it was read: bracketed, so that it can stand within another one.</param>
/// <param name="Parts">What it says, part by part: all of them hold.</param>
/// <param name="Names">Every field and derived column that it names.</param>
public sealed record ReadCondition(string Text, ImmutableArray<ConditionPart> Parts, ImmutableArray<string> Names)
{
    /// <summary>No condition: every record meets it.</summary>
    public static ReadCondition None { get; } = new("", [], []);

    internal static ReadCondition Of(Expression tree) => new(SqlText.Of(tree),
        tree is Logic { And: true } all ? [.. all.Parts.Select(ConditionPart.Of)] : [ConditionPart.Of(tree)], Expressions.Names(tree));
}

/// <summary>One part of a condition.</summary>
/// <param name="Text">As it can be written.</param>
public sealed record ConditionPart(string Text)
{
    /// <summary>The field, where the part compares one with a value; else null.</summary>
    public string? Field { get; private init; }

    /// <summary>How it is compared: <c>=</c>, <c>&lt;&gt;</c>, <c>&gt;=</c>, <c>is null</c>, <c>is not null</c>.</summary>
    public string Operator { get; private init; } = "";

    /// <summary>The value as tables write it; empty for none.</summary>
    public string Value { get; private init; } = "";

    internal static ConditionPart Of(Expression part) => part switch
    {
        Name name => new(name.Value) { Field = name.Value, Operator = "=", Value = "yes" },
        Not { Operand: Name name } => new($"not {name.Value}") { Field = name.Value, Operator = "=", Value = "no" },
        Compare { Left: Name name, Right: Literal value } compare => new($"{name.Value} {compare.Operator} {Write(value)}")
        {
            Field = name.Value,
            Operator = compare.Operator,
            Value = value.Text,
        },
        IsNull { Operand: Name name } isNull => new($"{name.Value} is {(isNull.Negated ? "not " : "")}null")
        {
            Field = name.Value,
            Operator = isNull.Negated ? "is not null" : "is null",
        },
        _ => new(SqlText.Of(part)),
    };

    private static string Write(Literal value) => value.Kind is Kind.Text or Kind.Date ? Quote.Text(value.Text) : value.Text;
}
