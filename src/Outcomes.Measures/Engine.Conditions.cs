using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>Conditions that are written on the spot.</summary>
public sealed partial class Engine
{
    /// <summary>
    /// Reads a condition by the language of the catalogue: fields, literals and comparisons, and nothing that reaches a file, a network or
    /// another table. Empty text is no condition.
    /// </summary>
    /// <exception cref="Failure">It cannot be read, or is no condition (exit 2).</exception>
    public ReadCondition ReadCondition(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (string.IsNullOrWhiteSpace(text))
            return Conditions.ReadCondition.None;
        try
        {
            _definitions.Add([new Written(text, "the condition", "", 0, Kind.YesNo)]);
        }
        catch (Failure failure)
        {
            throw new Failure(ExitCode.Usage, failure.Reason);
        }

        return Conditions.ReadCondition.Of(_definitions.Condition(text));
    }

    /// <summary>True where some source collects all that a field or derived column needs.</summary>
    public bool CanGive(string name) => _definitions.Scope.Find(name) is not null
        && _collection.RecordSources.Any(source => _collection.Lacking(source, [name]).Length == 0);

    /// <summary>A measure over some months as SQL for <see cref="Query"/>.</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="months">First and last month.</param>
    /// <param name="split">The field to split by; null for none.</param>
    public string ShowSql(Measure measure, (Month From, Month To) months, string? split)
    {
        ArgumentNullException.ThrowIfNull(measure);
        Check([measure], split is null ? [] : [split]);
        return ShownSql.Of(measure, _definitions.Condition(measure.Eligible),
            measure.Kind == MeasureKind.Proportion ? _definitions.Condition(measure.Met) : _definitions.Value(measure.Value), months,
            split);
    }

    /// <summary>How a condition on a field may be written.</summary>
    public FieldUse? Use(string name) => _definitions.Scope.Find(name) is not { } column || !CanGive(name) ? null
        : new(name, column.Kind switch
        {
            Kind.YesNo => FieldUseKind.YesNo,
            Kind.Number => FieldUseKind.Number,
            Kind.Date => FieldUseKind.Date,
            _ => FieldUseKind.Text,
        }, column.Allowed.IsDefault ? [] : column.Allowed);
}
