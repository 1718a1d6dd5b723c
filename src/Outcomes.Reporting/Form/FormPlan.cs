using System.Collections.Immutable;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Reporting.Form;

/// <summary>One time of the procedure and the fields that are asked for then, in order.</summary>
public sealed record FormStage(string Id, string Title, ImmutableArray<Field> Fields);

/// <summary>A field that is asked only where another has one of some values.</summary>
public sealed record AskedIf(string Field, ImmutableArray<string> Values);

/// <summary>Which fields the form asks for, when, and in which words: the dictionary and <c>form.yaml</c>.</summary>
/// <param name="Stages">The stages in the order of time.</param>
/// <param name="Attempts">The fields of an attempt.</param>
/// <param name="LeftOut">Fields that the form never asks for, and why.</param>
/// <param name="AskedIf">Fields that depend on another, by name.</param>
/// <param name="Words">Words for values.</param>
public sealed record FormPlan(
    ImmutableArray<FormStage> Stages, ImmutableArray<Field> Attempts, ImmutableDictionary<string, string> LeftOut,
    ImmutableDictionary<string, AskedIf> AskedIf, ImmutableDictionary<string, string> Words)
{
    private static readonly Lazy<FormPlan> ShippedOnce = new(() => For(FieldDictionary.Shipped));

    /// <summary>Fields that the second side of the paper form asks for beside the core ones of its first.</summary>
    public ImmutableArray<Field> PaperFields { get; init; } = [];

    /// <summary>The columns of the paper form's table of attempts.</summary>
    public ImmutableArray<Field> PaperAttempts { get; init; } = [];

    /// <summary>The form of the shipped dictionary.</summary>
    public static FormPlan Shipped => ShippedOnce.Value;

    /// <summary>The shipped order for a dictionary; a department's own fields of records have a stage of their own at the end.</summary>
    public static FormPlan For(FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        var plan = Read(Resource.Text("form.yaml"), "form.yaml", dictionary);
        var placed = plan.Stages.SelectMany(stage => stage.Fields).Select(field => field.Name).Concat(plan.LeftOut.Keys).ToHashSet(StringComparer.Ordinal);
        var own = dictionary.Of(FieldDictionary.Procedure)
            .Where(field => !placed.Contains(field.Name) && !FieldDictionary.IsFromTraces(field) && field.Identifying != Identifying.DirectRisk).ToImmutableArray();
        return own.IsEmpty ? plan : plan with { Stages = plan.Stages.Add(new FormStage("own", "Fields of the department", own)) };
    }

    /// <summary>The plan in the text of a <c>form.yaml</c>; a field that the dictionary lacks is a <see cref="Failure"/> with file and line.</summary>
    public static FormPlan Read(string text, string file, FieldDictionary dictionary)
    {
        ArgumentNullException.ThrowIfNull(dictionary);
        var root = YamlFile.Read(text, file).Map("stages", "attempts", "left_out", "asked_if", "words", "paper");
        var paper = root.Required("paper").Map("fields", "attempts");
        var stages = root.Required("stages").Items().Select(node =>
        {
            var stage = node.Map("id", "title", "fields");
            return new FormStage(stage.Text("id"), stage.Text("title"), Fields(dictionary, FieldDictionary.Procedure, stage.Required("fields")));
        });
        return new FormPlan(
            [.. stages], Fields(dictionary, FieldDictionary.Attempt, root.Required("attempts")), Texts(root.Optional("left_out")),
            Pairs(root.Optional("asked_if")).ToImmutableDictionary(pair => pair.Key, pair =>
            {
                var on = pair.Value.Map("field", "is");
                return new AskedIf(on.Text("field"), [.. on.Required("is").Texts()]);
            }),
            Texts(root.Optional("words")))
        {
            PaperFields = Fields(dictionary, FieldDictionary.Procedure, paper.Required("fields")),
            PaperAttempts = Fields(dictionary, FieldDictionary.Attempt, paper.Required("attempts")),
        };
    }

    /// <summary>The names in conditions that the page can give a value: what it asks for, what follows from its attempt rows, and the date.</summary>
    public ImmutableHashSet<string> Names() =>
    [
        "as_of", "attempts_contiguous", "intubation_attempts", "attempt_successes", "plan_a_attempts", "plan_b_attempts", "plan_c_attempts", "plan_d_attempts",
        "attempts_duration_s", "attempt_spo2_min", "attempt_oesophageal",
        .. Stages.SelectMany(stage => stage.Fields).SelectMany(field => Column.Of(field)).Select(column => column.Name),
        .. Attempts.SelectMany(field => Column.Of(field)).SelectMany(column => (string[])[$"attempt1_{column.Name}", $"attempt2_{column.Name}"]),
    ];

    /// <summary>A value in words.</summary>
    public string Word(string value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return Words.GetValueOrDefault(value) ?? value.Replace('_', ' ');
    }

    private static IEnumerable<(string Key, YamlNode Value)> Pairs(YamlNode? node) => node?.Pairs() ?? [];

    private static ImmutableDictionary<string, string> Texts(YamlNode? node) =>
        Pairs(node).ToImmutableDictionary(pair => pair.Key, pair => pair.Value.Text());

    private static ImmutableArray<Field> Fields(FieldDictionary dictionary, string table, YamlNode list) =>
        [.. list.Texts().Select(name => dictionary.Find(table, name) ?? throw list.Wrong($"`{name}` is no field of a {table}"))];
}
