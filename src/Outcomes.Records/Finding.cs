namespace Outcomes.Records;

/// <summary>What a finding does to the data.</summary>
public enum Severity
{
    /// <summary>The value stays; a person should look.</summary>
    Warn,

    /// <summary>The value becomes missing; the row stays.</summary>
    Blank,

    /// <summary>The row is quarantined.</summary>
    Refuse,
}

/// <summary>One thing wrong with the data. It never carries the cell's value.</summary>
/// <param name="Rule">The rule's id, a stable contract.</param>
/// <param name="Severity">What it does.</param>
/// <param name="File">The file's name as the pipeline writes it.</param>
/// <param name="Line">Physical line, 1-based, where the row starts; 0 when it concerns the whole file.</param>
/// <param name="Column">The column's heading in the file, or the field; empty when it concerns the row.</param>
/// <param name="RecordId">The row's key, when it has a good one.</param>
/// <param name="Explanation">What is wrong and what to do, in words.</param>
public sealed record Finding(
    string Rule, Severity Severity, string File, int Line, string Column, string RecordId, string Explanation);
