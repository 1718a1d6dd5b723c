namespace Outcomes.Analysis;

/// <summary>An input as the run read it.</summary>
public sealed record InputFile(string Name, string Sha256, long Rows);
