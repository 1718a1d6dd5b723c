using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>What a field holds, as conditions compare it.</summary>
public enum FieldUseKind
{
    YesNo,
    Number,
    Text,
    Date,
}

/// <summary>A field or derived column that conditions may use.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Kind">What it holds.</param>
/// <param name="Allowed">Its values; empty where it is not coded.</param>
public sealed record FieldUse(string Name, FieldUseKind Kind, ImmutableArray<string> Allowed);
