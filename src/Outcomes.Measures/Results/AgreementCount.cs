namespace Outcomes.Measures;

/// <summary>Records by the answers that two places give, as indices of a pair's answers.</summary>
public sealed record AgreementCount(int First, int Second, long Records);
