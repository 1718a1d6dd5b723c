namespace Outcomes.Measures;

/// <summary>A record that agrees with another in everything it was compared by.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="RecordId">Its key.</param>
public readonly record struct AlikeRecord(int Source, int Line, string RecordId);
