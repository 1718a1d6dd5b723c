using System.Collections.Immutable;
using Outcomes.Measures.Yaml;

namespace Outcomes.Cli.Definitions;

/// <summary>What the pipeline asks of the case mix.</summary>
/// <param name="Measures">The measures to judge against their case mix.</param>
/// <param name="Given">The fields to adjust for, the most important first.</param>
/// <param name="Shipped">True when the fields are the tool's own: then they are taken as far as events allow. A list of one's own is taken
/// whole or not at all.</param>
public sealed record CaseMixRequest(ImmutableArray<PipelineWord> Measures, ImmutableArray<PipelineWord> Given, bool Shipped)
{
    /// <summary>Whether an additive model is compared with the one that the report uses.</summary>
    public bool Challenger { get; init; }

    /// <summary>
    /// Physiology, difficulty, urgency, infection, place: what was known before induction, in the order in which few events are spent.
    /// Nothing that the team chose (device, drugs, operator) and nothing that came after.
    /// </summary>
    private static readonly ImmutableArray<string> Fields =
        [
            "spo2_pre", "anatomical_difficulty", "urgency", "infection_status", "location_type", "sbp_pre", "age_years",
            "cardiac_arrest_before"
        ];

    public static readonly YamlKeys Keys = new("pipeline case_mix", "measure", "given", "challenger");

    /// <summary>Reads <c>case_mix: {measure: [...], given: [...]}</c>.</summary>
    public static CaseMixRequest Of(YamlNode node)
    {
        ArgumentNullException.ThrowIfNull(node);
        var map = node.Map(Keys);
        var measures = Words(map.Required("measure"));
        var given = map.Optional("given");
        CaseMixRequest request = given is null
            ? new(measures, [.. Fields.Select(field => new PipelineWord(field, node.Line))], true)
            : new(measures, Words(given), false);
        return request with { Challenger = map.Optional("challenger")?.Choice(("on", true), ("off", false)) ?? false };
    }

    private static ImmutableArray<PipelineWord> Words(YamlNode node)
    {
        var words = node.Items().Select(item => new PipelineWord(item.Text(), item.Line)).ToImmutableArray();
        if (words.IsEmpty)
            throw node.Wrong("name at least one here, or leave the key out");
        for (var i = 0; i < words.Length; i++)
            if (words.Take(i).Any(before => before.Word == words[i].Word))
                throw node.Wrong($"`{words[i].Word}` is named twice; remove one");
        return words;
    }
}
