namespace Outcomes.Synthetic;

/// <summary>The demonstration: the data in <c>synthetic-data</c>, made again.</summary>
public static class Demo
{
    public const string Name = "demo";

    /// <summary>Thirty-six months from April 2023, about 500 procedures.</summary>
    public static SynthesisOptions Options { get; } = new() { Seed = 20230401 };
}
