using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Measures.Yaml;

namespace Outcomes.Measures.Catalogue;

/// <summary>Reads one measure: a map, one measure a file, the file named after the measure's id.</summary>
public static partial class MeasureFile
{
    public static readonly YamlKeys Keys = new(
        "measure", "id", "title", "group", "order", "kind", "population", "eligible", "met", "value", "unit", "decimals", "settled",
        "missing", "direction", "per", "why", "source", "as_published", "difference", "published", "examples");

    private static readonly (string, MeasureGroup)[] Groups =
    [
        ("outcome", MeasureGroup.Outcome), ("harm", MeasureGroup.Harm), ("preparation", MeasureGroup.Preparation),
        ("technique", MeasureGroup.Technique), ("infection", MeasureGroup.Infection), ("data", MeasureGroup.Data),
    ];

    public static Measure Read(YamlNode root)
    {
        var map = root.Map(Keys);
        var id = map.Text("id");
        if (!Identifier().IsMatch(id))
            throw map.Required("id").Wrong($"`{id}` is no id: use lower-case letters, digits and underscores, a letter first");
        var name = Path.GetFileNameWithoutExtension(root.File);
        if (name != id)
            throw map.Required("id").Wrong($"the id `{id}` and the file's name `{name}` differ; make them the same");
        var kind = map.Optional("kind")?.Choice(("proportion", MeasureKind.Proportion), ("quantity", MeasureKind.Quantity))
            ?? MeasureKind.Proportion;
        var (wanted, unwanted) = kind == MeasureKind.Proportion ? ("met", "value") : ("value", "met");
        if (map.Optional(unwanted) is { } extra)
            throw extra.Wrong($"a {(kind == MeasureKind.Proportion ? "proportion" : "quantity")} has `{wanted}`, not `{unwanted}`");
        return new Measure(id, map.Text("title"))
        {
            Kind = kind,
            Population = map.Optional("population")?.Choice(("children", Population.Children)) ?? Population.AsDefined,
            Group = map.Optional("group")?.Choice(Groups) ?? MeasureGroup.Other,
            Order = map.Optional("order")?.Integer() ?? int.MaxValue,
            Eligible = map.Text("eligible"),
            Met = kind == MeasureKind.Proportion ? map.Text("met") : "",
            Value = kind == MeasureKind.Quantity ? map.Text("value") : "",
            Unit = map.OptionalText("unit"),
            Decimals = map.Optional("decimals") is { } decimals ? Places(decimals, kind) : 0,
            Settled = map.Optional("settled")?.Choice(("all", Settled.All), ("any", Settled.Any)) ?? Settled.All,
            Missing = map.Optional("missing")?.Choice(("dropped", MissingRule.Dropped), ("not_done", MissingRule.NotDone))
                ?? MissingRule.Dropped,
            Direction = map.Optional("direction")?.Choice(("up", Direction.Up), ("down", Direction.Down), ("none", Direction.None))
                ?? Direction.None,
            Per = map.Optional("per") is { } per ? PositivePer(per) : 100,
            Why = map.OptionalText("why") ?? "",
            Source = map.OptionalText("source") ?? "",
            AsPublished = map.OptionalText("as_published") ?? "",
            Difference = map.OptionalText("difference") ?? "",
            Published = map.OptionalText("published") ?? "",
            Examples = map.Optional("examples") is { } examples ? [.. examples.Items().Select(node => Example(node, kind))] : [],
            File = root.File,
            Line = root.Line,
            EligibleLine = map.Required("eligible").Line,
            MetLine = map.Required(wanted).Line,
        };
    }

    private static int PositivePer(YamlNode node) =>
        node.Integer() is > 0 and var per ? per : throw node.Wrong("`per` is a whole number above 0, such as 100 or 1000");

    private static int Places(YamlNode node, MeasureKind kind) => kind != MeasureKind.Quantity
        ? throw node.Wrong("only a quantity has `decimals`")
        : node.Integer() is >= 0 and <= 3 and var places ? places : throw node.Wrong("`decimals` is a whole number from 0 to 3");

    private static MeasureExample Example(YamlNode node, MeasureKind kind)
    {
        var (given, expect) = Examples.Read(node);
        if (kind == MeasureKind.Quantity && expect.Text() is not ("missing" or "not_eligible"))
            return new MeasureExample(given, Answer.Met, node.Line) { Value = Number(expect) };
        return new MeasureExample(given, expect.Choice(
            ("met", Answer.Met), ("not_met", Answer.NotMet), ("missing", Answer.Missing), ("not_eligible", Answer.NotEligible)), node.Line);
    }

    private static decimal Number(YamlNode node) =>
        decimal.TryParse(node.Text(), NumberStyles.Number, CultureInfo.InvariantCulture, out var number)
            ? number
            : throw node.Wrong("expected a number, missing or not_eligible here");

    [GeneratedRegex("^[a-z][a-z0-9_]*$")]
    private static partial Regex Identifier();
}
