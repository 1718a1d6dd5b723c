namespace Outcomes.Measures;

/// <summary>A stored row that breaks a consistency rule.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Row">0-based row in it.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="Rule">Index of the rule in <see cref="EngineOptions.Rules"/>.</param>
public readonly record struct RuleBreach(int Source, int Row, int Line, int Rule);
