using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>How complete one field is among the records of sources that collect it.</summary>
public sealed record Completeness(string Field, long Known, long Records);

/// <summary>How complete one field is in one month.</summary>
public sealed record MonthCompleteness(string Field, Month Month, long Known, long Records);
