using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace Outcomes.Cli.Compute;

/// <summary>One input of a named statistic.</summary>
/// <param name="Name">Its key in the JSON object.</param>
/// <param name="Type">What it is: <c>integer</c>, <c>number</c>, <c>text</c>, <c>true or false</c>, <c>count</c> (an object of met and
/// eligible), <c>list of integers</c> or <c>list of samples</c>.</param>
/// <param name="Meaning">What it says, with range and unit.</param>
/// <param name="Default">What is taken when it is left out, as a person would write it; null when it must be given.</param>
public sealed record ComputeInput(string Name, string Type, string Meaning, string? Default = null)
{
    public bool Required => Default is null;
}

/// <summary>A named statistic that anyone can compute on given numbers: for teaching, and for validating the tool.</summary>
/// <param name="Name">Its name on the command line.</param>
/// <param name="Summary">What it answers, in one line.</param>
/// <param name="Inputs">Every key it takes.</param>
/// <param name="Source">The publication it comes from.</param>
/// <param name="Example">Inputs that can be run as they stand.</param>
/// <param name="Compute">The pure function behind it. <see cref="ComputeCatalogue.Run(string, JsonObject)"/> calls it, with the keys
/// checked.</param>
public sealed record ComputeStatistic(
    string Name, string Summary, ImmutableArray<ComputeInput> Inputs, string Source, string Example,
    Func<ComputeInputs, JsonObject> Compute);
