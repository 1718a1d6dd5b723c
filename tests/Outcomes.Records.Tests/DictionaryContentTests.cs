using Outcomes.Records;

namespace Outcomes.Tests;

/// <summary>
/// The shipped dictionary against a second transcription of the agreed data items, typed apart from the files: a field lost or
/// renamed, a range mistyped or a value dropped shows here. Values beyond the list (such as an explicit <c>none</c>) are allowed.
/// </summary>
public class DictionaryContentTests
{
    private const string ProcedureNames = """
        record_id site_code unit_code event_date event_time hour_band day_type location_type urgency age_years age_band sex
        weight_kg height_cm weight_estimated height_estimated indication primary_indication cardiac_arrest_before reintubation
        tube_exchange infection_status transmission_precaution room_ventilation staff_in_room ppe_level ppe_buddy_check ppe_breach
        ppe_breach_stage staff_exposure_reported filter_on_device_before_ventilation sample_line_side cuff_up_before_ventilation
        closed_suction mallampati osa cspine_limited mouth_lt_3cm coma severe_hypoxaemia_pre operator_non_anaesthetist macocha
        anatomical_difficulty physiological_difficulty checklist checklist_items_done checklist_items_total team_brief
        roles_allocated senior_present help_called plans_verbalised cricothyroid_membrane fona_kit_ready fona_operator_named
        position head_up_deg preox_method preox_min eto2_pre_pct apnoeic_oxygenation mask_vent_apnoea spo2_pre spo2_min spo2_at_2min
        spo2_source spo2_lt90_s sbp_pre sbp_min map_pre map_min hr_pre sbp_lt90_min vasopressor_pre vasopressor_new fluid_bolus_ml
        gcs_pre ph_pre lactate_pre observation_window induction_agent ketamine_mg propofol_mg etomidate_mg thiopental_mg
        midazolam_mg nmba rocuronium_mg suxamethonium_mg opioid rsi_type cricoid t_decision_s t_preox_start_s t_first_blade_s
        t_cico_declared_s t_fona_s t_tube_confirmed_s attempts_total plan_a plan_b plan_c plan_d final_plan final_airway
        cico_declared fona_performed fona_success co2_confirmation sustained_co2 etco2_first etco2_unit first_pass_success
        t_relaxant_s t_vasopressor_s oesophageal recognition_s complication cardiac_arrest_peri arrest_offset_min rosc death_24h
        harm_level airway_alert_issued debrief_done incident_reported recorder_role entry_delay_h entry_source narrative
        pre_entry_check in_room_check patient_and_indication_confirmed allergies_checked difficulty_anticipated difficulty_predicted roles_named
        equipment_ready drugs_ready monitoring_on circuit_order_ok gas_off_when_open mask_ventilation_after_relaxant
        tube_clamped_and_ventilator_paused chest_movement_seen tube_secured tube_depth_cm gastric_aspirated_before
        gastric_tube_after samples_sent doffing_observed
        """;

    private const string AttemptNames = """
        record_id attempt_no plan operator_specialty operator_grade operator_experience_band supervised operator_pseudonym technique
        device blade_shape introducer blade_insertions tube_passes view_mcl view_seen_by pogo_pct manoeuvre mils cricoid_released
        tube_type tube_size_mm outcome t_blade_in_s change_from_previous spo2_start spo2_min duration_s reoxygenated_after
        co2_after_attempt
        """;

    [Fact]
    public void Every_agreed_field_is_there()
    {
        Assert.Empty(Words(ProcedureNames).Except(FieldDictionary.Shipped.Of(FieldDictionary.Procedure).Select(field => field.Name)));
        Assert.Empty(Words(AttemptNames).Except(FieldDictionary.Shipped.Of(FieldDictionary.Attempt).Select(field => field.Name)));
    }

    [Fact]
    public void A_field_beyond_the_agreed_ones_is_a_decision_written_here()
    {
        string[] decided =
        [
            "neonate", "mask_ventilation_reason", "t_apnoea_start_s",
            "trace_window", "trace_window_s", "trace_interval_s", "trace_spo2_status", "trace_spo2_coverage", "trace_spo2_min",
            "trace_spo2_min_sustained", "trace_spo2_lt90_s", "trace_spo2_lt80_s", "trace_spo2_area_lt90", "trace_spo2_area_lt80",
            "trace_time_to_90_s", "trace_desaturation_rate", "trace_recovery_s", "trace_co2_breaths", "trace_sustained_co2",
            "trace_sbp_status", "trace_sbp_coverage", "trace_sbp_min", "trace_sbp_lt90_s", "trace_map_status", "trace_map_coverage",
            "trace_map_min", "trace_map_lt65_s",
        ];
        Assert.Equal(decided, FieldDictionary.Shipped.Of(FieldDictionary.Procedure).Select(field => field.Name)
            .Except(Words(ProcedureNames)));
        Assert.Empty(FieldDictionary.Shipped.Of(FieldDictionary.Attempt).Select(field => field.Name).Except(Words(AttemptNames)));
    }

    [Fact]
    public void A_trace_has_key_offset_signal_value_unit_quality_and_a_column_a_signal_and_no_clock_time()
    {
        var fields = FieldDictionary.Shipped.Of(FieldDictionary.Trace).ToArray();
        Assert.Equal(Words("record_id t_s signal value unit quality spo2 pleth_hr etco2 sbp map rr hr"),
            fields.Select(field => field.Name));
        Assert.Equal(Words("spo2 pleth_hr etco2 sbp map rr hr"), fields.Single(field => field.Name == "signal").Allowed);
        Assert.Equal(Words("ok artefact lead_off"), fields.Single(field => field.Name == "quality").Allowed);
        Assert.Equal(["record_id", "t_s"], fields.Where(field => field.Required).Select(field => field.Name));
        Assert.DoesNotContain(fields, field => field.Type is FieldType.Date or FieldType.Time);
    }

    [Theory]
    [InlineData("urgency", "immediate_arrest_or_periarrest emergency urgent planned")]
    [InlineData("age_band", "0-15 16-29 30-44 45-59 60-74 75-89 90+ adult child")]
    [InlineData("hour_band", "08-18 18-22 22-08")]
    [InlineData("location_type", "icu ed ward theatre recovery imaging obstetrics transfer other")]
    [InlineData("indication", "low_consciousness hypoxaemia ineffective_ventilation existing_obstruction impending_obstruction combative "
        + "humanitarian cardiac_arrest device_failing other hypercapnia haemodynamic planned_procedure")]
    [InlineData("infection_status", "confirmed suspected not_suspected")]
    [InlineData("checklist", "completed partly available_not_used not_available")]
    [InlineData("plans_verbalised", "A B C D")]
    [InlineData("position", "ramped head_up sniffing_flat supine_flat sitting lateral other")]
    [InlineData("preox_method", "non_rebreather tight_facemask_circuit niv_or_cpap hfno nasal_cannula bvm_assisted none")]
    [InlineData("observation_window", "to_2min to_30min to_60min other")]
    [InlineData("induction_agent", "ketamine propofol etomidate thiopental midazolam none")]
    [InlineData("nmba", "rocuronium suxamethonium other none")]
    [InlineData("rsi_type", "rsi modified delayed_sequence awake no_drugs")]
    [InlineData("plan_a", "not_used succeeded failed abandoned")]
    [InlineData("final_plan", "A B C D woken died")]
    [InlineData("final_airway", "tube sga facemask fona_scalpel fona_cannula surgical_tracheostomy none")]
    [InlineData("co2_confirmation", "waveform colorimetric none")]
    [InlineData("oesophageal", "none recognised_immediately delayed unrecognised")]
    [InlineData("complication", "aspiration regurgitation bronchospasm laryngospasm main_bronchus pneumothorax dental airway_trauma "
        + "bradycardia_lt40 arrhythmia cuff_failure accidental_extubation awareness drug_error equipment_failure other none")]
    [InlineData("equipment_ready",
        "mask_and_breathing_system filter closed_suction wide_bore_suction oral_airway videolaryngoscope direct_laryngoscope bougie stylet "
            + "tube_two_sizes syringe_and_ties tube_clamp supraglottic_two_sizes front_of_neck_set capnograph")]
    public void Values_of_a_record_field(string name, string values) => Assert.Empty(Words(values).Except(Shipped.Procedure(name).Allowed));

    [Theory]
    [InlineData("technique", "direct video flexible_scope via_sga sga_insertion facemask fona")]
    [InlineData("device", "direct video flexible_scope supraglottic facemask fona_set")]
    [InlineData("introducer", "bougie stylet none")]
    [InlineData("outcome",
        "success no_view cannot_pass_tube oesophageal desaturation_abandoned hypotension_abandoned vomit_soiling equipment arrest other")]
    [InlineData("operator_grade", "consultant_attending senior_trainee junior_trainee other")]
    [InlineData("view_mcl", "1 2a 2b 3a 3b 4 not_seen")]
    public void Values_of_an_attempt_field(string name, string values) => Assert.Equal(Words(values), Shipped.Attempt(name).Allowed);

    [Theory]
    [InlineData("age_years", 16, 100, 0, 120)]
    [InlineData("weight_kg", 35, 200, 0.3, 400)]
    [InlineData("height_cm", 130, 210, 25, 250)]
    [InlineData("staff_in_room", 2, 15, 1, 30)]
    [InlineData("head_up_deg", 0, 60, 0, 90)]
    [InlineData("preox_min", 0, 15, 0, 120)]
    [InlineData("eto2_pre_pct", 50, 95, 5, 100)]
    [InlineData("spo2_pre", 40, 100, 20, 100)]
    [InlineData("spo2_min", 40, 100, 20, 100)]
    [InlineData("spo2_at_2min", 40, 100, 20, 100)]
    [InlineData("spo2_lt90_s", 0, 600, 0, 7200)]
    [InlineData("sbp_pre", 40, 260, 20, 300)]
    [InlineData("sbp_min", 40, 260, 20, 300)]
    [InlineData("map_pre", 40, 150, 10, 250)]
    [InlineData("map_min", 40, 150, 10, 250)]
    [InlineData("hr_pre", 40, 170, 0, 300)]
    [InlineData("sbp_lt90_min", 0, 30, 0, 180)]
    [InlineData("fluid_bolus_ml", 0, 2000, 0, 10000)]
    [InlineData("ph_pre", 6.9, 7.6, 6.3, 8.0)]
    [InlineData("lactate_pre", 0, 20, 0, 40)]
    [InlineData("t_first_blade_s", 0, 600, 0, 7200)]
    [InlineData("attempts_total", 1, 4, 0, 20)]
    [InlineData("recognition_s", 0, 300, 0, 7200)]
    [InlineData("entry_delay_h", 0, 72, 0, 8760)]
    public void Ranges_of_a_record_field(string name, double low, double high, double lowest, double highest)
    {
        Assert.Equal(new Interval((decimal)low, (decimal)high), Shipped.Procedure(name).Plausible);
        Assert.Equal(new Interval((decimal)lowest, (decimal)highest), Shipped.Procedure(name).Hard);
    }

    [Theory]
    [InlineData("blade_insertions", 1, 2, 0, 10)]
    [InlineData("tube_passes", 0, 2, 0, 10)]
    [InlineData("tube_size_mm", 6.0, 8.5, 2.0, 10.0)]
    [InlineData("t_blade_in_s", 0, 600, -60, 7200)]
    [InlineData("duration_s", 5, 180, 1, 3600)]
    public void Ranges_of_an_attempt_field(string name, double low, double high, double lowest, double highest)
    {
        Assert.Equal(new Interval((decimal)low, (decimal)high), Shipped.Attempt(name).Plausible);
        Assert.Equal(new Interval((decimal)lowest, (decimal)highest), Shipped.Attempt(name).Hard);
    }

    [Fact]
    public void A_plausible_range_lies_within_the_hard_one_and_no_number_goes_without_a_hard_range()
    {
        foreach (var field in FieldDictionary.Shipped.Fields)
        {
            if (field.Type is FieldType.Integer or FieldType.Number)
                Assert.True(field.Hard is { Minimum: not null, Maximum: not null }, field.Name);
            if (field is { Plausible: { } plausible, Hard: { } hard })
                Assert.True(hard.Contains(plausible.Minimum!.Value) && hard.Contains(plausible.Maximum!.Value), field.Name);
        }
    }

    [Fact]
    public void A_source_needs_only_the_keys_and_the_date()
    {
        Assert.Equal(["record_id", "event_date"], FieldDictionary.Shipped.Of(FieldDictionary.Procedure).Where(field => field.Required)
            .Select(field => field.Name));
        Assert.Equal(["record_id", "attempt_no"], FieldDictionary.Shipped.Of(FieldDictionary.Attempt).Where(field => field.Required)
            .Select(field => field.Name));
    }

    [Fact]
    public void The_core_is_keys_date_urgency_age_arrest_attempts_plan_vital_signs_capnography_checklist_and_events()
    {
        string[] core =
        [
            "record_id", "event_date", "urgency", "age_years", "age_band", "cardiac_arrest_before", "checklist", "spo2_pre", "spo2_min",
            "sbp_pre", "sbp_min", "attempts_total", "first_pass_success", "final_plan", "cico_declared", "fona_performed",
            "co2_confirmation", "oesophageal", "complication", "cardiac_arrest_peri",
        ];
        Assert.Equal(core, FieldDictionary.Shipped.Of(FieldDictionary.Procedure).Where(field => field.Core).Select(field => field.Name));
    }

    [Fact]
    public void Every_field_says_what_it_is_and_free_text_is_marked_as_a_risk()
    {
        Assert.All(FieldDictionary.Shipped.Fields, field =>
            Assert.True(field.Title != field.Name && (field.Description.EndsWith('.') || field.Description.EndsWith('?')), field.Name));
        Assert.Equal(["narrative", "operator_pseudonym"],
            FieldDictionary.Shipped.Fields.Where(field => field.Identifying == Identifying.DirectRisk).Select(field => field.Name));
        foreach (var name in new[] { "event_date", "age_years", "sex", "location_type", "complication", "death_24h" })
            Assert.Equal(Identifying.Quasi, Shipped.Procedure(name).Identifying);
    }

    [Fact]
    public void Unknown_is_a_reason_and_never_a_value()
    {
        MissingToken[] reasons =
        [
            new("not_recorded", MissingReason.NotRecorded), new("unknown", MissingReason.Unknown), new("withheld", MissingReason.Withheld),
            new("not_applicable", MissingReason.NotApplicable),
        ];
        foreach (var field in FieldDictionary.Shipped.Fields)
        {
            Assert.Equal(reasons, field.Missing.Where(token => token.Reason != MissingReason.Unrecordable));
            Assert.Empty(field.Allowed.Intersect(reasons.Select(reason => reason.Word)));
        }
    }

    [Fact]
    public void Saturations_and_pressures_alone_may_be_too_low_to_measure()
    {
        Assert.Equal(["spo2_pre", "spo2_min", "spo2_at_2min", "sbp_pre", "sbp_min", "map_pre", "map_min", "spo2_start", "spo2_min"],
            FieldDictionary.Shipped.Fields.Where(field => field.MayBeUnrecordable).Select(field => field.Name));
        Assert.All(FieldDictionary.Shipped.Fields.Where(field => field.MayBeUnrecordable), field =>
        {
            Assert.Contains(new MissingToken("unrecordable", MissingReason.Unrecordable), field.Missing);
            Assert.True(field.Hard!.Value.Minimum > Field.TooLow);
        });
    }

    private static string[] Words(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
}
