using System.Collections.Immutable;

namespace Outcomes.Measures.Conditions;

/// <summary>The kind of a value in a condition.</summary>
internal enum Kind
{
    YesNo,
    Number,
    Text,
    Date,

    /// <summary>The literal NULL, which fits anywhere.</summary>
    Null,
}

/// <summary>A condition or value as the engine's own parser read it, reduced to what is allowed.</summary>
internal abstract record Expression;

internal sealed record Name(string Value) : Expression;

/// <param name="Kind">Its kind.</param>
/// <param name="Text">The number as written in SQL, <c>true</c> or <c>false</c>, or the unquoted text.</param>
internal sealed record Literal(Kind Kind, string Text) : Expression;

internal sealed record Compare(string Operator, Expression Left, Expression Right) : Expression;

internal sealed record Logic(bool And, ImmutableArray<Expression> Parts) : Expression;

internal sealed record Not(Expression Operand) : Expression;

internal sealed record In(Expression Operand, ImmutableArray<Expression> Options, bool Negated) : Expression;

internal sealed record Between(Expression Operand, Expression Lower, Expression Upper) : Expression;

internal sealed record IsNull(Expression Operand, bool Negated) : Expression;

internal sealed record Arithmetic(string Operator, Expression Left, Expression Right) : Expression;

internal sealed record Negate(Expression Operand) : Expression;

/// <summary>Only in shipped derived columns.</summary>
internal sealed record Case(ImmutableArray<(Expression When, Expression Then)> Branches, Expression? Otherwise) : Expression;

/// <summary>Only in shipped derived columns: <c>coalesce</c>, <c>least</c>, <c>greatest</c>.</summary>
internal sealed record Call(string Function, ImmutableArray<Expression> Arguments) : Expression;

internal static class Expressions
{
    public static IEnumerable<Expression> Parts(Expression expression) => expression switch
    {
        Compare x => [x.Left, x.Right],
        Logic x => x.Parts,
        Not x => [x.Operand],
        In x => [x.Operand, .. x.Options],
        Between x => [x.Operand, x.Lower, x.Upper],
        IsNull x => [x.Operand],
        Arithmetic x => [x.Left, x.Right],
        Negate x => [x.Operand],
        Case x => [.. x.Branches.SelectMany(branch => new[] { branch.When, branch.Then }),
            .. x.Otherwise is null ? Enumerable.Empty<Expression>() : [x.Otherwise]],
        Call x => x.Arguments,
        _ => [],
    };

    /// <summary>Every column that it names, once, in the order of first mention.</summary>
    public static ImmutableArray<string> Names(Expression expression)
    {
        var names = new List<string>();
        Collect(expression);
        return [.. names];

        void Collect(Expression part)
        {
            if (part is Name name && !names.Contains(name.Value))
                names.Add(name.Value);
            foreach (var inner in Parts(part))
                Collect(inner);
        }
    }
}
