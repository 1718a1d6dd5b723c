using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>A column as it stands in the store and in conditions: a set field has one yes/no column a value.</summary>
/// <param name="Name">The column's name.</param>
/// <param name="Field">The field it comes from.</param>
/// <param name="Value">The set's value it stands for; null for other types.</param>
public sealed record Column(string Name, Field Field, string? Value)
{
    /// <summary>Its heading for people.</summary>
    public string Title => Value is null ? Field.Title : $"{Field.Title}: {Readable.WithinSentence(Field.TitleOf(Value))}";

    /// <summary>The SQL type that the engine sees.</summary>
    public string SqlType => Value is not null ? "BOOLEAN" : Field.Type switch
    {
        FieldType.Text or FieldType.Code => "VARCHAR",
        FieldType.YesNo => "BOOLEAN",
        FieldType.Integer or FieldType.Time => "INTEGER",
        FieldType.Number => "DOUBLE",
        FieldType.Date => "DATE",
        FieldType.Set => throw new InvalidOperationException($"Set field {Field.Name} has a column a value."),
        _ => throw new InvalidOperationException($"Field {Field.Name} has an unknown type."),
    };

    /// <summary>The columns of one field, in the order of its allowed values.</summary>
    public static ImmutableArray<Column> Of(Field field) => field.Type == FieldType.Set
        ? [.. field.Allowed.Select(value => new Column($"{field.Name}_{value}", field, value))]
        : [new Column(field.Name, field, null)];
}
