"""Sources and uncertainties of single figures."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('catalog', '0003_enclosures'),
        ('contenttypes', '0002_remove_content_type_name'),
    ]

    operations = [
        migrations.CreateModel(
            name='FigureNote',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('content_type', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, to='contenttypes.contenttype')),
                ('object_id', models.PositiveBigIntegerField()),
                ('figure', models.CharField(help_text='Key of the figure, such as r_air_k_w or openings.front.area_cm2.', max_length=200)),
                ('source', models.ForeignKey(blank=True, help_text="Where this figure comes from, when not from the part's own source.", null=True, on_delete=django.db.models.deletion.PROTECT, related_name='figure_notes', to='catalog.source', to_field='code')),
                ('uncertainty', models.FloatField(blank=True, help_text="One standard uncertainty: in the figure's unit, or as a share of the figure.", null=True)),
                ('relative', models.BooleanField(default=False, help_text='Whether the uncertainty is a share of the figure (0.05 for 5 %).')),
            ],
            options={
                'ordering': ['content_type', 'object_id', 'figure'],
                'constraints': [models.UniqueConstraint(fields=('content_type', 'object_id', 'figure'), name='figurenote_one_per_figure'), models.CheckConstraint(condition=models.Q(('uncertainty__gte', 0.0), ('uncertainty__lte', 1000000000.0)), name='figurenote_uncertainty_range', violation_error_message='must be a number from 0 to 1000000000'), models.CheckConstraint(condition=models.Q(('source__isnull', False), ('uncertainty__isnull', False), _connector='OR'), name='figurenote_says_something', violation_error_message='a note names a source, an uncertainty or both')],
            },
        ),
    ]
