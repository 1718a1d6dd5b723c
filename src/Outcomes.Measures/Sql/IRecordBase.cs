using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>Which rows a query sees, and in which state.</summary>
internal enum Stage
{
    /// <summary>Every stored row, before anything is set aside.</summary>
    Stored,

    /// <summary>Rows that count, as they were recorded.</summary>
    Recorded,

    /// <summary>Rows that count, after blanking.</summary>
    Counted,
}

/// <summary>A field of a record or of its numbered attempt whose cell may say that the question does not arise.</summary>
/// <param name="Attempt">0 for the record, else the attempt's number.</param>
/// <param name="Field">The field.</param>
internal readonly record struct CellKey(int Attempt, string Field);

/// <summary>Where base columns come from: the record store, or the made-up records of examples.</summary>
internal interface IRecordBase
{
    /// <summary>
    /// SQL giving <c>source, row, line</c>, the base columns asked for, and a bit mask <c>na0, na1, ...</c> for the cells asked for.
    /// </summary>
    public string Sql(IReadOnlyList<ScopeColumn> columns, Stage stage, IReadOnlyList<CellKey> notApplicable);

    /// <summary>Condition under which a field wins over the derived column of the same name; null for never.</summary>
    public string? FieldWins(ScopeColumn column);

    /// <summary>Those of the cells that say "not applicable" anywhere.</summary>
    public IReadOnlyList<CellKey> NotApplicable(IEnumerable<CellKey> cells);

    /// <summary>Sources, by order, in which a rule that names these columns cannot be judged.</summary>
    public IReadOnlyList<int> CannotJudge(IReadOnlyList<string> columns);
}
