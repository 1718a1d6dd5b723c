using System.Collections.Immutable;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// A buffer whose value says that the heart had stopped: only then is a saturation or a pressure of 0 a reading too low to measure.
/// </summary>
/// <param name="Buffer">The buffer.</param>
/// <param name="Value">The value of a code, a bit of a set, or 1 for yes.</param>
/// <param name="IsSet">True where the value is one of a set.</param>
public readonly record struct ArrestMark(int Buffer, int Value, bool IsSet)
{
    /// <summary>The fields that say so, and the value of each that is no plain yes.</summary>
    private static readonly (string Field, string? Value)[] Said =
    [
        ("cardiac_arrest_before", null), ("cardiac_arrest_peri", null), ("indication", "cardiac_arrest"), ("outcome", "arrest"),
    ];

    public bool Holds(TableBatch batch, int row) => batch.Columns[Buffer].Ints[row] is var found
        && found != ColumnBuffer.Missing && (IsSet ? (found & Value) != 0 : found == Value);

    /// <summary>The marks among fields that stand in this order in a batch.</summary>
    public static ImmutableArray<ArrestMark> In(IReadOnlyList<Field> fields) =>
        [.. fields.SelectMany((field, i) => Said.Where(said => said.Field == field.Name && Fits(field, said.Value))
            .Select(said => field.Type == FieldType.Set
                ? new ArrestMark(i, 1 << field.Allowed.IndexOf(said.Value!), true)
                : new ArrestMark(i, said.Value is null ? 1 : field.Allowed.IndexOf(said.Value), false)))];

    // A local field may have taken a shipped one's name, and mean something else.
    private static bool Fits(Field field, string? value) => value is null
        ? field.Type == FieldType.YesNo
        : field.Type is FieldType.Code or FieldType.Set && field.Allowed.Contains(value);
}
