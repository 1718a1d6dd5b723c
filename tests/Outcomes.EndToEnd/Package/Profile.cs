using System.Text.Json.Nodes;
using Json.Schema;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The published profile of Data Package, version 2: see tests/fixtures/datapackage.</summary>
internal static class Profile
{
    private static readonly JsonSchema Published =
        JsonSchema.FromFile(Repository.InRoot("tests", "fixtures", "datapackage", "datapackage.json"));

    /// <summary>Where a descriptor breaks the profile, and why; nothing where it is valid.</summary>
    public static List<string> Broken(JsonNode descriptor)
    {
        var result = Published.Evaluate(descriptor, new EvaluationOptions { OutputFormat = OutputFormat.List });
        return result.IsValid
            ? []
            : [.. result.Details.Where(detail => detail.HasErrors)
                .SelectMany(detail => detail.Errors!.Select(error => $"{detail.InstanceLocation}: {error.Value}"))];
    }
}
